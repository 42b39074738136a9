package checks

import (
	"fmt"
	"math"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Rule is one thing that is checked. Its document is here and nowhere else:
// `explain`, hover, the reference and SARIF all read it.
type Rule struct {
	Name     string // words joined by underscores, readable in `accept NAME on …`; never changed
	Group    string // the heading it stands under
	Category finding.Category
	Finds    string // what it fires on, one sentence
	Why      string // why that matters
	Bad      string // a whole text on which this rule fires, and no other
	Good     string // the same text mended; nothing fires
	Limits   []string
	Source   string // where the rule itself comes from
	run      func(*Pass)
	reads    lists // see readsOf
}

// Groups in the order in which references list them.
const (
	GroupShape      = "shape"
	GroupBoard      = "the board"
	GroupPlating    = "plating"
	GroupConnectors = "connectors"
	GroupMask       = "mask"
	GroupTabs       = "tabs"
	GroupHalfHoles  = "half holes"
	GroupFence      = "via fence"
	GroupPhysics    = "physics"
	GroupHouse      = "housekeeping"
)

// Named finds a rule, or nil.
func Named(name string) *Rule {
	for _, r := range rules {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// Rules lists every rule in the order of the references.
func Rules() []*Rule { return append([]*Rule(nil), rules...) }

func ruleNames() []string {
	names := make([]string, len(rules))
	for i, r := range rules {
		names[i] = r.Name
	}
	return names
}

// Pass is one run of the rules over one board. A rule reads it and reports.
type Pass struct {
	Board    *board.Board
	Limits   *Limits
	analysis *lang.Analysis
	rule     *Rule
	today    string
	full     bool // there were more findings than are kept
	known    func(rule string) bool
	found    []finding.Finding
	meets    map[*board.Profile][]geom.Crossing
	gaps     map[*board.Profile][]gapRange

	// What the last check of the text found, nil where that is of no use, and the
	// lists in which the board differs since.
	before   *record
	differs  lists
	features map[*Rule]map[*board.Feature][]finding.Finding // see eachFeature
}

// MaxFindings bounds what one board's check reports: no one reads more, and
// no text can exhaust memory with them.
const MaxFindings = 20_000

// report adds a finding of the rule that is running, on the items named. The
// finding is returned so that related places and a fix can be added.
func (p *Pass) report(at source.Place, on []string, format string, args ...any) *finding.Finding {
	if !p.add(finding.Finding{Rule: p.rule.Name, Category: p.rule.Category, Place: at, On: on, Message: fmt.Sprintf(format, args...)}) {
		return &finding.Finding{} // goes nowhere
	}
	return &p.found[len(p.found)-1]
}

// add adds a finding and tells whether there was room for it.
func (p *Pass) add(f finding.Finding) bool {
	if len(p.found) >= MaxFindings {
		p.full = true
		return false
	}
	p.found = append(p.found, f)
	return true
}

// language adds a finding on the text itself.
func (p *Pass) language(f finding.Finding) {
	f.Category = finding.Language
	p.found = append(p.found, f)
}

// tooSmall is the sentence of a value under its minimum: "wrap on top is
// 0.30 mm; standard asks for at least 0.40 mm (limit wrap_land, shops/standard.hem:7)".
func tooSmall(what string, measured quantity.Quantity, l Limit) string {
	a, b := quantity.Pair(measured, l.Quantity)
	return fmt.Sprintf("%s is %s; %s asks for at least %s %s", what, a, l.Who, b, l.from())
}

// tooLarge is the sentence of a value over its maximum.
func tooLarge(what string, measured quantity.Quantity, l Limit) string {
	a, b := quantity.Pair(measured, l.Quantity)
	return fmt.Sprintf("%s is %s; %s allows at most %s %s", what, a, l.Who, b, l.from())
}

// length is a computed length, shown in the unit of a value that its author
// wrote near it (in mm without one). One less than nothing by too little to
// be shown is nothing.
func length(nm float64, like ...board.Value) quantity.Quantity {
	if nm < 0 && nm > -150 {
		nm = 0
	}
	q := quantity.Nanometres(nm)
	for _, v := range like {
		if v.Given() && v.Unit != nil {
			return q.As(v.Unit)
		}
	}
	return q
}

// point shows a point of the board as coordinates, to a nanometre.
func point(p geom.Point) string {
	return fmt.Sprintf("(%s, %s)", quantity.Nanometres(math.Round(p.X)), quantity.Nanometres(math.Round(p.Y)))
}

func related(f *finding.Finding, at source.Place, format string, args ...any) {
	f.Related = append(f.Related, finding.Related{Place: at, Message: fmt.Sprintf(format, args...)})
}

// relatedLimit adds the place of the fabricator's limit, if it has one.
func relatedLimit(f *finding.Finding, l Limit) {
	if l.At.Anchor != nil {
		related(f, l.At, "%s sets %s", l.Who, l.Parameter.Name)
	}
}

// edit is a fix of one replacement.
func edit(title string, at source.Place, text string) *finding.Fix {
	return &finding.Fix{Title: title, Edits: []finding.Edit{{Place: at, Text: text}}}
}
