package rules

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang/copper"
	"hemline/lang/finding"
)

// Two things are put on the stage of a clean board: too near each other, by one
// kind of mistake or another, and just not. What the mistakes are, and which
// lines of the table of pairs they are for, is in the file beside this one.

// actor puts a piece of a kind on the stage.
type actor struct {
	kind copper.Kind
	word string
	free bool // it stands somewhere on the board, else on the south edge
	// half is half of how long it is along the edge, deep how far it reaches
	// inward from it; a free one is as high as it is long.
	half, deep float64
	round      bool   // as deep as half
	flat       bool   // how deep it is does not change
	fixed      bool   // it has no size
	wall       bool   // its net must be stated
	layered    bool   // it lies on one layer, which may be another
	on         string // what findings are on: its name, or this
	put        func(p spot) string
}

// nowhere is what findings on the outline's bare edge are on.
const nowhere = "-"

// spot is where and how large something is put.
type spot struct {
	stage            staging
	name, net, layer string
	at, inward       float64 // its middle: a position on the edge, and how far inward
	half, deep       float64
	margin           float64 // the shop's mask_margin
}

// middle is the point where a free one stands.
func (p spot) middle() string {
	return at(p.stage.place.x+p.at-float64(p.stage.from), p.stage.place.y+p.inward)
}

// along is its stretch of the edge, shorter at each end by so much.
func (p spot) along(less float64) string {
	return fmt.Sprintf("south from %s to %s", inMM(p.at-p.half+less), inMM(p.at+p.half-less))
}

func (p spot) ofNet() string {
	if p.net == "" {
		return ""
	}
	return " net " + p.net
}

// plate is a plating, with what is said of it beside.
func (p spot) plate(name, along, wrap string, more ...string) string {
	return fmt.Sprintf("plating %s { along %s; net %s; copper 35 um; extend 0.6 mm; wrap top %s; wrap bottom %s%s }",
		name, along, p.net, wrap, wrap, strings.Join(append([]string{""}, more...), "; "))
}

// bore is a square opening whose edges are all plated.
func (p spot) bore(half float64, wrap string, more ...string) string {
	hole := p.name + "_hole"
	return fmt.Sprintf("cutout %s rectangle %s by %s corner 0.8 mm at %s\n", hole, inMM(2*half), inMM(2*half), p.middle()) +
		p.plate(p.name, fmt.Sprintf("%s.south %s.east %s.north %s.west", hole, hole, hole, hole), wrap, more...)
}

// pairing is two kinds, and what they are held to.
type pairing struct {
	rule   string
	limits []string // the largest counts; none where they may not overlap
	nets   nets
	a, b   actor
	layer  string
	clear  []string // where they may not overlap: the limits by which another line holds them
}

// sizes are changes to what is put on the stage.
type sizes struct {
	growA, growB float64
	netA, netB   string
	layer        string // that of what lies on one layer alone
	shop         string
}

// on is what a finding on two things is on.
func (r pairing) on() (list []string) {
	for i, x := range []actor{r.a, r.b} {
		switch name := []string{"first", "second"}[i]; x.on {
		case "":
			list = append(list, name)
		case nowhere:
		case "layer":
			list = append(list, r.layer)
		default:
			list = append(list, x.on)
		}
	}
	return list
}

// text is a board with both on its stage, so far from each other.
func (r pairing) text(st staging, apart float64, z sizes) string {
	l := checks.LimitsFor(readText("made.hem", st.text+z.shop))
	start := float64(st.from)
	a := spot{stage: st, name: "first", net: z.netA, layer: r.layer, half: r.a.half, deep: r.a.deep, margin: l.Minimum("mask_margin").Value}
	b := a
	b.name, b.net, b.half, b.deep = "second", z.netB, r.b.half, r.b.deep
	switch {
	case r.b.free && r.a.free:
		a.at, a.inward, b.inward = start+7e6, 6.5e6, 6.5e6
		b.at = a.at + a.half + apart + b.half
	case r.b.free:
		a.at, b.at = start+12e6, start+12e6
		b.inward = a.deep + apart + b.half
	default:
		a.at = start + 6e6
		b.at = a.at + a.half + apart + b.half
	}
	across := r.a.free == r.b.free
	grow := func(p *spot, x actor, by float64) {
		if across || x.free || x.round {
			p.half += by
		}
		if !across && !x.free || x.round {
			p.deep += by
		}
	}
	grow(&a, r.a, z.growA)
	grow(&b, r.b, z.growB)
	if z.layer != "" {
		if r.b.layered {
			b.layer = z.layer
		} else {
			a.layer = z.layer
		}
	}
	return st.text + z.shop + r.a.put(a) + "\n" + r.b.put(b) + "\n"
}

// slip is a kind of mistake with two things: the board that has it, and one on
// which the same was done and is just right.
type slip struct {
	mistake string
	make    func(r pairing, s *subject, st staging) (wrong, right string, ok bool)
}

const grown = 5e5

// least is what two things keep from each other, and how far apart they may be
// put so that it is kept.
func (r pairing) least(s *subject) (need, right float64) {
	for _, l := range r.limits {
		need = math.Max(need, s.min(l))
	}
	for _, l := range r.clear {
		right = math.Max(right, s.min(l))
	}
	return need, math.Max(math.Max(need, right), 2000)
}

// near is a distance that is too small.
func (r pairing) near(s *subject, need float64) float64 {
	if len(r.limits) == 0 {
		return -1e5 - math.Round(1e5*s.r.Float64())
	}
	if s.r.IntN(4) == 0 {
		return need - 1
	}
	return math.Floor(need * (0.2 + 0.75*s.r.Float64()))
}

// usual are the nets of two things that are held against each other.
func (r pairing) usual() sizes {
	if r.nets == twoNets {
		return sizes{netA: "V8", netB: "V9"}
	}
	return sizes{netA: "V8", netB: "V8"}
}

var slips = []slip{
	{"is put too near", func(r pairing, s *subject, st staging) (string, string, bool) {
		need, right := r.least(s)
		return r.text(st, r.near(s, need), r.usual()), r.text(st, right, r.usual()), true
	}},
	{"grows", func(r pairing, s *subject, st staging) (string, string, bool) {
		need, right := r.least(s)
		wrong, just := r.usual(), r.usual()
		wrong.growB, just.growB = right+grown-r.near(s, need), grown
		return r.text(st, right+grown, wrong), r.text(st, right+grown, just), !r.b.fixed
	}},
	{"comes nearer by what stands there growing", func(r pairing, s *subject, st staging) (string, string, bool) {
		need, right := r.least(s)
		wrong, just := r.usual(), r.usual()
		wrong.growA, just.growA = right+grown-r.near(s, need), grown
		return r.text(st, right+grown, wrong), r.text(st, right+grown, just), !r.a.fixed && (!r.a.flat || r.a.free == r.b.free)
	}},
	{"is near enough for this shop and not for another", func(r pairing, s *subject, st staging) (string, string, bool) {
		if len(r.limits) == 0 {
			return "", "", false
		}
		need, _ := r.least(s)
		for _, l := range r.limits {
			need = math.Max(need, asBuilt.Minimum(l).Value)
		}
		need = math.Ceil(need * 1.5)
		shop := func(v float64) sizes {
			z := r.usual()
			z.shop = fmt.Sprintf("fabricator elsewhere { limit %s minimum %s }\n", r.limits[len(r.limits)-1], inMM(v))
			return z
		}
		return r.text(st, need, shop(need+1+math.Floor(need*0.3*s.r.Float64()))), r.text(st, need, shop(need)), true
	}},
	{"gets another net", func(r pairing, s *subject, st staging) (string, string, bool) {
		need, _ := r.least(s)
		d := r.near(s, need)
		return r.text(st, d, sizes{netA: "V8", netB: "V9"}), r.text(st, d, sizes{netA: "V8", netB: "V8"}), r.nets == twoNets
	}},
	{"gets the same net", func(r pairing, s *subject, st staging) (string, string, bool) {
		need, _ := r.least(s)
		d := r.near(s, need)
		return r.text(st, d, r.usual()), r.text(st, d, sizes{netA: "V8", netB: "V9"}), r.nets == oneNet
	}},
	{"loses its net", func(r pairing, s *subject, st staging) (string, string, bool) {
		need, _ := r.least(s)
		d, bare := r.near(s, need), sizes{netA: "V8"}
		if r.b.wall {
			bare = sizes{netB: "V8"}
		}
		return r.text(st, d, bare), r.text(st, d, sizes{netA: "V8", netB: "V8"}), r.nets == twoNets && (!r.a.wall || !r.b.wall)
	}},
	{"goes to another layer", func(r pairing, s *subject, st staging) (string, string, bool) {
		need, _ := r.least(s)
		d, away := r.near(s, need), r.usual()
		away.layer = map[string]string{"top": "ground", "ground": "top"}[r.layer]
		if r.b.kind == copper.Pin {
			away.layer = "bottom"
		}
		return r.text(st, d, r.usual()), r.text(st, d, away), r.layers()
	}},
}

// layers tells whether two things are held against each other on one layer
// alone, and one of them may lie on another.
func (r pairing) layers() bool {
	other := r.a.kind
	if !r.b.layered {
		other = r.b.kind
	}
	if !r.a.layered && !r.b.layered || r.rule == "edge_pullback" || r.b.kind == copper.Plane {
		return false
	}
	if r.b.kind == copper.Pin || !r.b.layered && r.a.kind == copper.Pin {
		return other == copper.Feature && r.layer == "top"
	}
	switch other {
	case copper.Wrap, copper.Land, copper.Feature, copper.Ring, copper.Pin, copper.Body, copper.Opening:
		return r.layer == "top"
	case copper.Wall, copper.Strip:
		return r.layer == "ground"
	}
	return false
}

var asBuilt = checks.LimitsFor(readText("made.hem", ""))

// stagesOfSlip is how many boards a mistake with two things is made on.
const stagesOfSlip = 2

// stageSubjects are the boards with a stage.
var stageSubjects = sync.OnceValue(func() []*subject {
	var list []*subject
	for _, st := range stagings() {
		s := &subject{path: "made.hem", text: st.text, a: readText("made.hem", st.text)}
		s.b, s.l = s.a.Board(), checks.LimitsFor(s.a)
		list = append(list, s)
	}
	return list
})

// pairScore counts what was tried.
type pairScore struct {
	sync.Mutex
	counts
	alarms int
	made   map[string][]string // the mistakes that were made with two kinds, by rule and kinds
}

func (p *pairScore) key(rule string, a, b copper.Kind) string {
	return fmt.Sprintf("%s: %s with %s", rule, min(a, b), max(a, b))
}

func (p *pairScore) slip(t *testing.T, n int, r pairing, x slip) {
	list := stageSubjects()
	for i := range stagesOfSlip {
		at := (n*3 + i*5) % len(list)
		s := *list[at]
		s.r = rand.New(rand.NewPCG(uint64(n), uint64(at)))
		wrong, right, ok := x.make(r, &s, stagings()[at])
		if !ok {
			t.SkipNow()
		}
		p.try(t, r.rule, r.on(), r.b.kind == copper.Plane || strings.Contains(right, "fabricator elsewhere"), i > 0, &s, wrong, right)
	}
	p.note(r.rule, r.a.kind, r.b.kind, x.mistake)
}

func (p *pairScore) note(rule string, a, b copper.Kind, mistake string) {
	p.Lock()
	defer p.Unlock()
	k := p.key(rule, a, b)
	p.made[k] = append(p.made[k], mistake)
}

// try tells whether the wrong board's mistake is caught, on both things, and the
// right one's is none. A plane meets other walls too, and another shop looks at all
// that is there, so that then only what is said of the two counts.
func (p *pairScore) try(t *testing.T, rule string, on []string, both, quick bool, s *subject, wrong, right string) {
	require.NotEqual(t, wrong, right)
	var c counts
	c.mutants = 1
	hit := func(f finding.Located) bool {
		return f.Rule == rule && !slices.ContainsFunc(on, func(name string) bool { return !slices.Contains(f.Items, name) })
	}
	m := mutant{text: wrong}
	if len(on) > 0 {
		m.on = on[0]
	}
	caught, found := try(t, kind{rule: rule, quick: quick}, s, m, &c.fixes)
	if caught && slices.ContainsFunc(found, hit) {
		c.caught = 1
	}
	assert.True(t, slices.ContainsFunc(found, hit), "on %v, in\n%s\nfound: %s", on, changed(s.text, wrong), said(found))
	alarms := 0
	for _, f := range underAll(readText(s.path, right+"\n"+asDrawn)) { // at worst two that keep a limit may still meet
		if hit(f) || f.Rule == rule && !both || f.Category == finding.Language {
			alarms++
			assert.Fail(t, "a false alarm", "%s: %s\n%s", f.Rule, f.Message, changed(s.text, right))
		}
	}
	p.Lock()
	defer p.Unlock()
	p.mutants, p.caught, p.fixes, p.alarms = p.mutants+1, p.caught+c.caught, p.fixes+c.fixes, p.alarms+alarms
}
