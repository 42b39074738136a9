package rules

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// The generator writes boards that nothing is wrong with. It knows what each
// rule asks for and keeps to it by construction, with arithmetic of its own:
// no board is thrown away because a rule spoke up, so that a false alarm
// cannot hide. Lengths are whole nanometres.

const (
	millimetre = int64(1_000_000)
	grain      = 50_000 // positions and sizes lie on a grid of 0.05 mm
)

// dot is a point in nm.
type dot struct{ x, y float64 }

func (d dot) to(e dot) float64 { return math.Hypot(e.x-d.x, e.y-d.y) }

// side is an edge of the outline as the generator knows it.
type side struct {
	name        string
	length      int64 // between its ends, the sharp corners on a rectangle
	low, high   int64 // the straight part
	arc, closed bool
	taken       [][2]int64 // where something stands on it
	wall        *wallPlan  // nil for a bare one
	from, to    int64      // the plated stretch
	axis        int        // 1 to 4 for a rectangle's south, east, north, west
	path        piece      // from the position 0 on
	right       bool       // the board lies on the right of that
}

func (s *side) whole() bool { return s.wall != nil && s.from == 0 && s.to == s.length }

// plated tells whether any of a stretch lies on the plated part.
func (s *side) plated(from, to int64) bool { return s.wall != nil && from < s.to && to > s.from }

// wallPlan is a plating.
type wallPlan struct {
	name, net string
	wrap      [2]int64
	copper    int64
	reach     int64 // of its relief; 0 for none
	margin    int64 // what that is longer than the copper's ends
	says      bool  // so much is stated
	on        []string
	onCutout  bool
}

// tabPlan is a tab.
type tabPlan struct {
	on                        *side
	at, width                 int64
	perforated, premetallised bool
	hole, pitch, length       int64
	opens                     string // its own gap, as its statement says it
}

// maker makes one board.
type maker struct {
	r           *rand.Rand
	shop        string // "", "house" or one of the examples' shops
	limits      *checks.Limits
	shape       string
	sides       []*side
	pieces      []piece // the outline's
	rim         []dot   // points round the outline, a quarter of a millimetre apart
	stands      []blob
	staged      bool // room is kept for mistakes, on the south
	stage       staging
	width       int64 // of the box
	height      int64
	perimeter   float64
	thickness   int64
	er          float64
	copper      []string // layers
	tabs        []tabPlan
	walls       []*wallPlan
	holes       []dot // middles of cutouts
	radii       []float64
	open        []int64 // widths of open gaps
	names       map[string]int
	head, text  []string
	keepOff     int64 // how far other copper keeps from every profile, outer layers
	fencePitch  int64
	planeNets   map[string]string // by layer
	planeLayers int
	bared       int64 // how deep half holes' reliefs reach
	noted       bool  // tabs are left to the shop
	few         bool  // a small board on three tabs
}

// cleanBoard writes the board of a seed.
func cleanBoard(seed uint64) string {
	for try := uint64(0); ; try++ {
		m := &maker{r: rand.New(rand.NewPCG(seed, try)), names: map[string]int{}}
		m.shop = []string{"", "standard", "advanced", "conservative", "house", "standard"}[seed%6]
		m.limits = checks.LimitsFor(readText("made.hem", m.shopText()))
		m.shape = []string{"rectangle", "rounded", "bay", "circle", "rounded", "tongue", "bite", "rectangle", "chamfer", "rounded", "turned"}[(seed+try/20)%11]
		if m.few = seed%5 == 1 && m.min("tab_count") <= 3 && m.spacing() > 51e6; m.few {
			m.shape = []string{"rectangle", "rounded"}[seed%2]
		}
		if m.build(seed) {
			return m.String()
		}
		if try == 200 {
			panic(fmt.Sprintf("no room for the tabs of board %d, %s for %q", seed, m.shape, m.shop))
		}
	}
}

func (m *maker) shopText() string {
	switch m.shop {
	case "":
		return ""
	case "house":
		return "fabricator house {\n  offers edge_plating half_holes perforated_tabs premetallised_tabs plated_cutouts\n  limit wall_copper minimum 20 um because \"class 2 is enough here\"\n  limit gap_width minimum 60 mil\n  limit tab_spacing maximum 76 mm\n}"
	}
	return fmt.Sprintf("use \"examples/shops/%s.hem\"", m.shop)
}

func (m *maker) String() string {
	return "hem 1\n" + strings.Join(append(m.head, m.text...), "\n") + "\n"
}

// build plans a board and writes it; false where the tabs do not fit the shape.
func (m *maker) build(seed uint64) bool {
	m.stack()
	m.outline()
	if !m.planTabs(seed) || !m.planWalls(seed) {
		return false
	}
	m.keepOff = 0
	for _, w := range m.walls {
		m.keepOff = max(m.keepOff, w.wrap[0]+m.min("wrap_clearance"), w.wrap[1]+m.min("wrap_clearance"), w.reach+m.min("mask_margin")+m.min("mask_web"))
	}
	m.keepOff = max(m.keepOff, m.min("edge_clearance_outer"))
	if m.staged && !m.keepStage() {
		return false
	}
	m.writeTabs()
	m.connectors()
	m.castellations()
	m.writeCutouts()
	m.writeWalls()
	m.writePlanes()
	m.features()
	m.fences()
	m.drilled()
	m.agreedPair()
	m.notes()
	m.info()
	return true
}

func (m *maker) min(parameter string) int64 {
	return int64(math.Ceil(m.limits.Minimum(parameter).Value))
}
func (m *maker) max(parameter string) int64 { return int64(m.limits.Maximum(parameter).Value) }

func (m *maker) offers(service string) bool { return m.limits.Offers(service) }

// chance is true once in n.
func (m *maker) chance(n int) bool { return m.r.IntN(n) == 0 }

// between is a length from lo to hi on the grid; the ends themselves may come out.
func (m *maker) between(lo, hi int64) int64 {
	if hi <= lo {
		return lo
	}
	switch m.r.IntN(6) {
	case 0:
		return lo
	case 1:
		return hi
	}
	return min(hi, lo+m.r.Int64N(hi-lo+1)/grain*grain)
}

func pick[T any](m *maker, list ...T) T { return list[m.r.IntN(len(list))] }

// name gives a new one.
func (m *maker) name(word string) string {
	m.names[word]++
	return fmt.Sprintf("%s%d", word, m.names[word])
}

// size writes a length in one of the trade's units, always exact.
func (m *maker) size(nm int64) string {
	unit, per := "mm", 1e6
	switch n := m.r.IntN(8); {
	case n == 0 && nm%254 == 0:
		unit, per = "mil", 25400
	case n == 1 && nm < 3*millimetre:
		unit, per = "um", 1e3
	}
	return strconv.FormatFloat(float64(nm)/per, 'f', -1, 64) + pick(m, " ", " ", "") + unit
}

// at writes a position on a side.
func (m *maker) at(s *side, at int64) string {
	switch {
	case 2*at == s.length && !s.closed:
		return "middle"
	case m.chance(5) && !s.arc && s.axis > 0:
		return s.name + ".length - " + m.size(s.length-at)
	}
	return m.size(at)
}

// say writes a statement in one of the ways in which it may stand.
func (m *maker) say(head string, clauses ...string) {
	clauses = slices.DeleteFunc(clauses, func(c string) bool { return c == "" })
	switch n := m.r.IntN(8); {
	case len(clauses) == 0:
		m.text = append(m.text, head)
	case len(clauses) > 5 || n == 0:
		m.text = append(m.text, head+" {\n  "+strings.Join(clauses, "\n  ")+"\n}")
	case n == 1:
		m.text = append(m.text, head+" { "+strings.Join(clauses, "; ")+" }")
	default:
		m.text = append(m.text, head+" "+strings.Join(clauses, " "))
	}
}

// stack writes what the board is made of.
func (m *maker) stack() {
	lo, hi := m.min("board_thickness"), m.max("board_thickness")
	m.er = pick(m, 3.48, 3.66, 4.2, 4.3, 4.4)
	m.thickness = m.between(max(lo, millimetre), min(hi, 2*millimetre))
	switch m.r.IntN(5) {
	case 0:
		return // the board statement says how thick it is
	case 1, 2:
		m.copper = []string{"top", "bottom"}
		m.head = append(m.head, fmt.Sprintf("stack {\n  copper top 35 um\n  dielectric core %s permittivity %g\n  copper bottom 1 oz\n}", m.size(m.thickness-70_000), m.er))
	default:
		m.copper = []string{"top", "ground", "power", "bottom"}
		core := m.thickness - 2*35_000 - 2*17_000 - 2*200_000
		m.head = append(m.head, fmt.Sprintf("stack {\n  copper top 35 um\n  dielectric upper 0.2 mm permittivity %g loss 0.02\n  copper ground 17 um\n  dielectric core %s permittivity %g\n  copper power 17 um\n  dielectric lower 0.2 mm permittivity %g\n  copper bottom 35 um\n}",
			m.er, m.size(core), m.er, m.er))
	}
}

// layer names a copper layer of a face.
func (m *maker) inner() []string {
	if len(m.copper) == 4 {
		return m.copper[1:3]
	}
	return nil
}

var shopFiles sync.Map

// readText analyses a text that uses the examples' shops.
func readText(path, text string) *lang.Analysis { return readAfter(path, text, nil) }

// readAfter reads another version of a text.
func readAfter(path, text string, prev *lang.Analysis) *lang.Analysis {
	return lang.Analyze(source.New(path, text), func(path string) (*source.File, error) {
		if f, ok := shopFiles.Load(path); ok {
			return f.(*source.File), nil
		}
		data, err := os.ReadFile(filepath.Join("../..", path))
		if err != nil {
			return nil, err
		}
		f := source.New(path, string(data))
		shopFiles.Store(path, f)
		return f, nil
	}, prev)
}

var cleanBoards = sync.OnceValue(func() []string {
	var list []string
	for seed := range uint64(boardsMade) {
		list = append(list, cleanBoard(seed))
	}
	for _, s := range stagings() {
		list = append(list, s.text)
	}
	return list
})

// No rule speaks up about a board that nothing is wrong with, however it is
// written; and the boards are of many kinds.
func TestCleanBoards(t *testing.T) {
	t.Parallel()
	statements, different := map[string]int{}, map[string]bool{}
	for seed, text := range cleanBoards() {
		a := readText("made.hem", text)
		for _, f := range All().Check(a, checks.Options{}).Findings {
			assert.Fail(t, "a false alarm", "board %d: line %d: %s: %s\n%s", seed, f.File.LineOf(f.Span.Start)+1, f.Rule, f.Message, numbered(text))
		}
		formatted := syntax.Format(a.Document())
		for _, f := range All().Check(readText("made.hem", formatted), checks.Options{}).Findings {
			assert.Fail(t, "a false alarm on the formatted text", "board %d: %s: %s\n%s", seed, f.Rule, f.Message, formatted)
		}
		different[text] = true
		for what := range kindsOf(a) {
			statements[what]++
		}
	}
	if raced {
		return
	}
	assert.GreaterOrEqual(t, len(different), 50)
	for what, least := range map[string]int{
		"board": 50, "stack": 40, "outline": 50, "plating": 50, "gap": 40, "connector": 12, "relief": 25, "tab": 40,
		"castellation": 12, "cutout": 25, "plane": 40, "feature": 45, "fence": 20, "hole": 15, "fabricator": 8, "use": 30, "let": 20, "note": 20, "accept": 3,
		"frequency": 30, "shielding": 12, "current": 8, "band": 6, "bridged": 10, "premetallised": 6, "perforated": 12, "solid": 25, "plated cutout": 8,
		"rounded": 15, "drawn": 20, "circle": 5, "two nets": 8, "four layers": 20, "along all": 8, "part of an edge": 8, "arc": 12,
		"standard": 10, "advanced": 8, "conservative": 8, "no fabricator": 8, "tabs left to the shop": 3,
		"body that reaches": 6, "fence with pads": 10, "added fence": 5, "fence with clearance": 5, "gap for a tab": 15, "tab that opens": 20, "connector that opens": 5, "hole with land": 10, "vias of another net": 5, "reliefs of a face each": 6,
		"connectors of several nets": 6, "pins on both faces": 4, "accept with": 4, "unplated hole": 4, "inner feature": 10, "feature without net": 10,
	} {
		assert.GreaterOrEqual(t, statements[what], least, what)
	}
	t.Logf("%d different clean boards; how many have each: %v", len(different), statements)
}

func numbered(text string) string {
	var b strings.Builder
	for i, line := range strings.Split(text, "\n") {
		fmt.Fprintf(&b, "%3d %s\n", i+1, line)
	}
	return b.String()
}

// kindsOf says what a board has of the things that boards differ in.
func kindsOf(a *lang.Analysis) map[string]bool {
	has, text := map[string]bool{}, a.Root().Text()
	for _, s := range a.Document().Statements() {
		has[s.Word()] = true
	}
	b := a.Board()
	for what, word := range map[string]string{
		"along all": "along all", "tabs left to the shop": "leave tab_places", "arc": "arc ",
		"standard": "shops/standard", "advanced": "shops/advanced", "conservative": "shops/conservative",
	} {
		has[what] = strings.Contains(text, word)
	}
	has["frequency"], has["shielding"], has["current"] = b.Info().Frequency.Given(), b.Info().Shielding.Given(), b.Info().Current.Given()
	for _, t := range b.Tabs() {
		has["premetallised"], has["perforated"], has["solid"] = has["premetallised"] || t.Premetallised, has["perforated"] || t.Perforated, has["solid"] || t.Solid
	}
	for _, g := range b.Gaps() {
		has["bridged"] = has["bridged"] || g.Bridged
	}
	has["band"] = b.Info().FrequencyLow.Given()
	has["rounded"] = len(b.Outline().Corners) > 0
	has["drawn"], has["circle"] = b.Outline().Kind == "start", b.Outline().Kind == "circle"
	has["four layers"] = len(b.CopperLayers()) == 4
	has["no fabricator"] = b.Fabricator() == nil
	for _, c := range b.Connectors() {
		has["body that reaches"] = has["body that reaches"] || c.BodyReach.Given()
		has["pins on both faces"] = has["pins on both faces"] || len(c.Pins) > 1
	}
	has["connectors of several nets"] = len(b.Connectors()) > 1
	for _, f := range b.Fences() {
		has["fence with pads"], has["vias of another net"] = f.Land.Given(), f.Net.Text != "GND"
		has["added fence"], has["fence with clearance"] = f.Added, f.Clearance.Given()
	}
	for _, h := range b.Holes() {
		has["hole with land"] = has["hole with land"] || h.Land.Given()
		has["unplated hole"] = has["unplated hole"] || !h.Plated
	}
	for _, g := range b.Gaps() {
		has["tab that opens"], has["connector that opens"] = has["tab that opens"] || g.Tab != nil, has["connector that opens"] || g.Connector != nil
		has["gap for a tab"] = has["gap for a tab"] || !g.Opened() && strings.HasPrefix(g.For.Text, "t")
	}
	for _, r := range b.Reliefs() {
		has["reliefs of a face each"] = has["reliefs of a face each"] || len(r.Faces) == 1 && b.PlatingNamed(r.OverNames()) != nil
	}
	for _, x := range b.Acceptances() {
		has["accept with"] = has["accept with"] || x.With.Given()
	}
	for _, f := range b.Features() {
		_, outer := b.FaceOf(f.Layer.Text)
		has["inner feature"] = has["inner feature"] || !outer
		has["feature without net"] = has["feature without net"] || !f.Net.Given()
	}
	nets := map[string]bool{}
	for _, p := range b.Platings() {
		nets[p.Net.Text] = true
		for _, x := range p.Along {
			if x.Edge.Profile.Cutout {
				has["plated cutout"] = true
			} else if x.From > 0 {
				has["part of an edge"] = true
			}
		}
	}
	has["two nets"] = len(nets) > 1
	for what, yes := range has {
		if !yes {
			delete(has, what)
		}
	}
	return has
}

func TestTheGeneratorIsDeterministic(t *testing.T) {
	t.Parallel()
	for _, seed := range []uint64{0, 7, boardsMade - 1} {
		require.Equal(t, cleanBoard(seed), cleanBoards()[seed])
	}
}
