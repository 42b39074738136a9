package rules

import (
	"cmp"
	"fmt"
	"strings"
	"sync"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

var unitUnlikely = &checks.Rule{
	Name: "unit_unlikely", Group: checks.GroupHouse, Category: finding.Risky,
	Finds:  "A length is far from what is plausible for its clause or for the fabricator's limit that it sets: most likely its unit is another one.",
	Why:    "The text means what it says: notes, layers and figures would order 25000 µm of copper, or a hole as wide as the board. The ranges are wide; what lies within them is for the other rules. Positions and points are held to their edge and the board instead.",
	Source: "for each clause its own, stated in the message; for a limit a fiftieth to fifty times the built-in value, common practice, no source",
	Bad:    strings.Replace(platedWith(), "copper 25 um", "copper 25 mm", 1),
	Good:   platedWith(),
	Run: func(p *checks.Pass) {
		for _, k := range board.Kinds() {
			for _, i := range k.Unlikely(p.Board) {
				unlikelyIn(p, k, i)
			}
		}
		for _, f := range p.Board.Fabricators() {
			for _, l := range f.Limits {
				for _, v := range [...]board.Value{l.Minimum, l.Maximum} {
					if r := limitRanges()[l.Parameter.Text]; r != nil && v.Given() && v.Dim == quantity.Length && !r.Holds(v.Value) {
						unlikely(p, &f.Item, []string{f.Name.Text}, "limit "+l.Parameter.Text+" of fabricator "+f.Name.Text, board.Unlikely{Range: r, Value: v, Plain: true})
					}
				}
			}
		}
	},
}

func unlikelyIn(p *checks.Pass, k *board.Kind, i *board.Item) {
	of, on := k.Word, []string{i.Name.Text}
	if i.Name.Text == k.Word {
		// a kind that goes by its keyword
	} else if i.Name.Text != "" {
		of += " " + i.Name.Text
	} else if on = []string{k.Word}; !k.Accepts && k.Word != "outline" {
		on = boardName(p) // an acceptance names no stack
	}
	for _, u := range i.Unlikely {
		unlikely(p, i, on, u.Clause+" of "+of, u)
	}
}

// boardName is what a finding on the board as a whole is on: its name, or the
// outline of a board that has none.
func boardName(p *checks.Pass) []string {
	if i := p.Board.Info(); i != nil && i.Name.Given() {
		return []string{i.Name.Text}
	}
	return []string{"outline"}
}

func unlikely(p *checks.Pass, i *board.Item, on []string, what string, u board.Unlikely) {
	least, most := u.Range.Least, u.Range.Most
	r := p.Report(u.Value.At, on, "%s is %s; %s to %s is plausible there (%s)", what, u.Value.Quantity, least, most, u.Range.Source)
	meant, ok := u.Range.Meant(u.Value.Quantity)
	if !ok {
		return
	}
	text, _ := meant.Exact(meant.Unit, 9)
	r.Message += fmt.Sprintf("; %s is likely meant", text)
	if u.Plain && i.Whole.Anchor != nil && i.Whole.Anchor.Path == p.Root() {
		if r.Fix = p.Edit("write "+text, u.Value.At, text); r.Fix != nil {
			r.Fix.Guess = true
		}
	}
}

// limitRanges are what is plausible for a fabricator's limits that are lengths:
// fifty times either way of what the trade usually holds.
var limitRanges = sync.OnceValue(func() map[string]*syntax.Likely {
	ranges := map[string]*syntax.Likely{}
	for _, x := range checks.Parameters() {
		if x.Dim == quantity.Length {
			r := syntax.Within(cmp.Or(x.Minimum, x.Maximum), cmp.Or(x.Maximum, x.Minimum), "fifty times either way of the built-in value")
			r.Least.Value, r.Most.Value = r.Least.Value/50, r.Most.Value*50
			ranges[x.Name] = &r
		}
	}
	return ranges
})
