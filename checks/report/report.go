// Package report computes what is known of a board in figures: plated lengths
// and shares, openings, bounds on shielding, resonances, resistances, currents,
// areas, masses, tabs. Hover and `hemline report` show the same values.
//
// Every figure is a bound for ideal geometry and typical materials, not a
// measurement. One that does not apply has no value and says why.
package report

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
)

// Item is the figures of one item of the board.
type Item struct {
	Kind    string   `json:"kind"` // the statement's keyword
	Name    string   `json:"name"`
	Figures []Figure `json:"figures"`
}

// Opening is one opening of the plated walls.
type Opening struct {
	Gap      string   `json:"gap"`                // "" where the plating does not go on, and where OpenedBy says what opens it
	OpenedBy string   `json:"openedBy,omitempty"` // the tab or the connector that makes its own gap
	Tab      string   `json:"tab,omitempty"`      // premetallised, whose root is bare once it is cut
	Where    string   `json:"where"`
	Length   float64  `json:"lengthMm"` // its longest dimension, 0 where it is open at worst alone
	Share    *float64 `json:"shareOfWavelengthPercent"`
	Holds    *float64 `json:"shieldingDb"`         // the bound that it alone sets
	Guide    *float64 `json:"asGuideDb,omitempty"` // as a short waveguide below cut-off as deep as the wraps; not to be added
	Fences   []string `json:"behindIt,omitempty"`  // the fences whose vias close it in part
	Widest   *float64 `json:"widestBehindItMm,omitempty"`
	Worst    Worst    `json:"atWorst"`
	Closed   bool     `json:"madeByGap"`
}

// Worst is an opening at worst.
type Worst struct {
	Length float64  `json:"lengthMm"`
	Share  *float64 `json:"shareOfWavelengthPercent"`
	Holds  *float64 `json:"shieldingDb"`
	By     string   `json:"by,omitempty"` // the tolerance that makes it worse, and whose it is
}

// Accepted is a finding that is agreed.
type Accepted struct {
	Rule    string   `json:"rule"`
	Items   []string `json:"items"`
	Because string   `json:"because"`
	Until   string   `json:"until,omitempty"`
	Message string   `json:"message"`
}

// Asked is what became of something that the board asks for.
type Asked struct {
	Clause   string `json:"clause"`
	Asked    string `json:"asked"`
	Verdict  string `json:"verdict"`
	Why      string `json:"why"`
	Accepted string `json:"accepted,omitempty"` // why it is agreed that it is not verified
}

// Left is what the shop decides.
type Left struct {
	Queries []string `json:"queries"`
	Along   []string `json:"along,omitempty"` // the edges, where it is not the whole board
	Because string   `json:"because"`
}

// Report is everything in figures.
type Report struct {
	File     string         `json:"file"`
	Board    Item           `json:"board"`
	Asked    []Asked        `json:"asked"`
	First    []First        `json:"givesFirst"` // the smallest margins, then the weakest of each kind
	Shop     string         `json:"fabricator"`
	Items    []Item         `json:"items"`
	Openings []Opening      `json:"openings"` // what leaks most first
	Cavities []Cavity       `json:"cavities"` // pairs of planes, from the top
	Findings map[string]int `json:"findings"` // by category
	Accepted []Accepted     `json:"accepted"`
	Left     []Left         `json:"leftToTheShop"`
	Caution  string         `json:"caution"`
}

// New computes the report of an analysed board. today is as in checks.Options, and
// so is modes.
func New(a *lang.Analysis, today string, modes *figures.Store) *Report {
	if modes == nil {
		modes = figures.NewStore(nil)
	}
	return Of(a, rules.All().Check(a, checks.Options{Today: today, Modes: modes}), modes)
}

// Of computes the report of a board of which what is found is known.
func Of(a *lang.Analysis, out checks.Outcome, modes *figures.Store) *Report {
	b := a.Board()
	tolerances := checks.TolerancesOf(b)
	r := &Report{File: a.Root().Path(), Shop: "common practice", Asked: []Asked{}, Items: []Item{}, Openings: openings(b, tolerances), Cavities: []Cavity{}, Findings: map[string]int{}, Accepted: []Accepted{}, Left: []Left{}, Caution: wording.Caution}
	if shop := b.Fabricator(); shop != nil {
		r.Shop = shop.Name.Text
	}
	resonances := resonances(b, modes)
	r.Board = boardItem(b, tolerances, resonances)
	for _, x := range resonances {
		r.Cavities = append(r.Cavities, CavityOf(b, x))
	}
	conductors := modes.Conductors(b)
	for _, p := range b.Platings() {
		item := PlatingItem(b, p, conductors)
		item.Figures = append(item.Figures, tiedFigures(b, conductors, p)...)
		r.Items = append(r.Items, item)
	}
	bits := checks.BitsOf(b)
	for _, t := range b.Tabs() {
		r.Items = append(r.Items, TabItem(b, t, bits))
	}
	for _, c := range b.Castellations() {
		r.Items = append(r.Items, CastellationItem(b, c))
	}
	for _, c := range b.Cutouts() {
		if item, ok := CutoutItem(b, c); ok {
			r.Items = append(r.Items, item)
		}
	}
	for _, f := range b.Fences() {
		r.Items = append(r.Items, FenceItem(b, f, tolerances))
	}
	for _, f := range out.Findings {
		r.Findings[f.Category.String()]++
	}
	for _, x := range out.Asked {
		answer := Asked{Clause: x.Clause, Asked: x.Says, Verdict: x.Verdict.String(), Why: x.Why}
		if by := out.Agreed(x); by != nil {
			answer.Accepted = by.Because.Text
		}
		r.Asked = append(r.Asked, answer)
	}
	for _, x := range out.Accepted {
		r.Accepted = append(r.Accepted, Accepted{x.Rule, x.Items, x.By.Because.Text, x.By.Until.Text, x.Message})
	}
	for _, l := range b.Leaves() {
		left := Left{Along: l.Edges(), Because: l.Because.Text}
		for _, q := range l.Queries {
			left.Queries = append(left.Queries, q.Text)
		}
		r.Left = append(r.Left, left)
	}
	if i := b.Info(); i != nil {
		hold(r.Board.Figures, out.Asked, i)
	}
	r.First = r.first()
	return r
}

func boardItem(b *board.Board, tolerances figures.Tolerances, cavities []figures.Resonance) Item {
	i := Item{Kind: "board"}
	if b.Info() != nil {
		i.Name = b.Info().Name.Text
	}
	i.Figures = BoardFigures(b, tolerances, cavities)
	return i
}
