//go:build !race

package rules

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// A laid board is one that the oracle of pairs judges: its text, and beside it
// what was placed in plain coordinates. All lengths are millimetres, whole
// micrometres where the text states them.
type laid struct {
	Layers        []string           `json:"layers"`
	Limits        map[string]float64 `json:"limits"`
	Profiles      []laidProfile      `json:"profiles"`
	Platings      []laidPlating      `json:"platings"`
	Features      []laidFeature      `json:"features"`
	Holes         []laidHole         `json:"holes"`
	Fences        []laidFence        `json:"fences"`
	Castellations []laidHalfHoles    `json:"castellations"`
	Connectors    []laidConnector    `json:"connectors"`
	Tabs          []laidTab          `json:"tabs"`
	Reliefs       []laidRelief       `json:"reliefs"`
	Planes        []laidPlane        `json:"planes"`

	text strings.Builder
}

type xy [2]float64

// laidSeg is a piece of a profile: a line, or an arc about C. Zero is the
// position at its start, Dir whether positions grow along it.
type laidSeg struct {
	Edge string  `json:"e"`
	P    xy      `json:"p"`
	Q    xy      `json:"q"`
	C    *xy     `json:"c,omitempty"`
	CW   bool    `json:"cw,omitempty"`
	Zero float64 `json:"z"`
	Dir  float64 `json:"d"`
}

type laidProfile struct {
	Name string    `json:"name"`
	Segs []laidSeg `json:"segs"`
}

type laidStretch struct {
	Edge  string  `json:"edge"`
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Whole bool    `json:"whole,omitempty"`
	// Of a gap: its name, what it is for, and whether it says that metal bridges it.
	Name    string `json:"name,omitempty"`
	For     string `json:"for,omitempty"`
	Bridged bool   `json:"bridged,omitempty"`
}

type laidPlating struct {
	Name   string        `json:"name"`
	Net    string        `json:"net"`
	Along  []laidStretch `json:"along"`
	Gaps   []laidStretch `json:"gaps"`
	Wrap   [2]float64    `json:"wrap"`
	Layers []string      `json:"layers"`
}

type laidFeature struct {
	Name  string  `json:"name"`
	Layer string  `json:"layer"`
	At    xy      `json:"at"`
	D     float64 `json:"d,omitempty"`
	W     float64 `json:"w,omitempty"`
	H     float64 `json:"h,omitempty"`
	Net   string  `json:"net,omitempty"`
}

type laidHole struct {
	Name   string  `json:"name"`
	At     xy      `json:"at"`
	D      float64 `json:"d"`
	Plated bool    `json:"plated"`
	Net    string  `json:"net,omitempty"`
	Land   float64 `json:"land,omitempty"`
}

type laidFence struct {
	Name string  `json:"name"`
	Vias []xy    `json:"vias"`
	D    float64 `json:"d"`
	Land float64 `json:"land,omitempty"`
	Net  string  `json:"net,omitempty"`
}

type laidHalfHoles struct {
	Name string    `json:"name"`
	Edge string    `json:"edge"`
	At   []float64 `json:"at"`
	D    float64   `json:"d"`
	W    float64   `json:"w"`
	L    float64   `json:"l"`
	Nets []string  `json:"nets"`

	Round float64 `json:"round"` // of the corners beside its edge
}

type laidPin struct {
	Face string  `json:"face"`
	W    float64 `json:"w"`
	L    float64 `json:"l"`
}

type laidConnector struct {
	Name      string    `json:"name"`
	Edge      string    `json:"edge"`
	At        float64   `json:"at"`
	Body      float64   `json:"body"`
	Reach     float64   `json:"reach,omitempty"`
	Clearance float64   `json:"clearance,omitempty"`
	Net       string    `json:"net,omitempty"`
	Pins      []laidPin `json:"pins"`
	Round     float64   `json:"round"` // of the corners beside its edge
}

type laidPerforation struct {
	D     float64 `json:"d"`
	P     float64 `json:"p"`
	Inset float64 `json:"inset"`
}

type laidTab struct {
	Name string           `json:"name"`
	Edge string           `json:"edge"`
	At   float64          `json:"at"`
	W    float64          `json:"w"`
	Perf *laidPerforation `json:"perf,omitempty"`
	Pre  bool             `json:"pre"`
}

type laidRelief struct {
	Name   string   `json:"name"`
	Over   string   `json:"over"`
	Faces  []string `json:"faces"`
	Reach  float64  `json:"reach"`
	Margin *float64 `json:"margin,omitempty"`
}

type laidPlane struct {
	Layer    string  `json:"layer"`
	Net      string  `json:"net"`
	Pullback float64 `json:"pullback"`
	// Within is the rectangle that it is cut to: its least x and y, and its most.
	Within []float64 `json:"within,omitempty"`
}

// whole rounds to whole micrometres, so that a text says exactly what is laid.
func whole(mm float64) float64 { return math.Round(mm*1000) / 1000 }

func mm(v float64) string { return fmt.Sprintf("%.3f mm", v) }

func point(p xy) string { return fmt.Sprintf("(%s, %s)", mm(p[0]), mm(p[1])) }

func (b *laid) say(format string, args ...any) { fmt.Fprintf(&b.text, format+"\n", args...) }

// edgeFrame is an edge of a laid profile as things are placed along it: a
// straight one, or an arc about C.
type edgeFrame struct {
	name    string
	zero    xy      // the point at position 0
	dir     xy      // the way positions grow, on straight edges
	in      xy      // inward, on straight edges
	lo, hi  float64 // positions that lie on it
	c       *xy     // the centre of an arc
	r       float64
	a       float64 // the arc's angle at position 0
	ccw     bool    // positions grow counterclockwise
	outward bool    // the board lies outside the arc
	profile int
	round   float64 // radius of the corners beside it
	axis    bool    // it runs along x or y
}

// at is the point at a position and so far inward.
func (e edgeFrame) at(u, v float64) xy {
	if e.c == nil {
		return xy{whole(e.zero[0] + e.dir[0]*u + e.in[0]*v), whole(e.zero[1] + e.dir[1]*u + e.in[1]*v)}
	}
	a := e.a + u/e.r
	if !e.ccw {
		a = e.a - u/e.r
	}
	r := e.r - v
	if e.outward {
		r = e.r + v
	}
	return xy{whole(e.c[0] + r*math.Cos(a)), whole(e.c[1] + r*math.Sin(a))}
}

// frames are the edges of a profile; board tells that the board lies within it.
func frames(p laidProfile, index int, round float64) []edgeFrame {
	area := 0.0
	for _, s := range p.Segs {
		area += s.P[0]*s.Q[1] - s.P[1]*s.Q[0]
		if s.C != nil { // the arc's own part, roughly: enough for the sign
			d := 1.0
			if s.CW {
				d = -1
			}
			area += d * 2 * math.Hypot(s.P[0]-s.C[0], s.P[1]-s.C[1])
		}
	}
	left := (area > 0) == (index == 0)
	var list []edgeFrame
	for _, s := range p.Segs {
		if s.Edge == "" || (len(list) > 0 && list[len(list)-1].name == s.Edge) {
			continue
		}
		f := edgeFrame{name: s.Edge, profile: index, round: round}
		if s.C == nil {
			l := math.Hypot(s.Q[0]-s.P[0], s.Q[1]-s.P[1])
			t := xy{(s.Q[0] - s.P[0]) / l, (s.Q[1] - s.P[1]) / l}
			f.in = xy{-t[1], t[0]}
			if !left {
				f.in = xy{t[1], -t[0]}
			}
			f.dir = xy{t[0] * s.Dir, t[1] * s.Dir}
			f.zero = xy{s.P[0] - f.dir[0]*s.Zero, s.P[1] - f.dir[1]*s.Zero}
			f.lo, f.hi = min(s.Zero, s.Zero+s.Dir*l), math.Floor(max(s.Zero, s.Zero+s.Dir*l)*1000+1e-6)/1000
			f.axis = math.Abs(t[0]*t[1]) < 1e-9
		} else {
			f.c, f.r = s.C, math.Hypot(s.P[0]-s.C[0], s.P[1]-s.C[1])
			f.a, f.ccw = math.Atan2(s.P[1]-s.C[1], s.P[0]-s.C[0]), !s.CW
			sweep := math.Atan2(s.Q[1]-s.C[1], s.Q[0]-s.C[0]) - f.a
			if s.CW {
				sweep = -sweep
			}
			for sweep <= 1e-9 {
				sweep += 2 * math.Pi
			}
			f.hi = math.Floor(sweep*f.r*1000) / 1000
			f.outward = f.ccw != left
		}
		list = append(list, f)
	}
	return list
}

// rectangle is a profile of four edges with corners of radius r about a centre.
func rectangle(prefix string, c xy, w, h, r float64) laidProfile {
	x0, x1, y0, y1 := c[0]-w/2, c[0]+w/2, c[1]-h/2, c[1]+h/2
	p := laidProfile{Name: strings.TrimSuffix(prefix, ".")}
	side := func(name string, a, b xy, zero, dir float64, corner, next xy) {
		p.Segs = append(p.Segs, laidSeg{Edge: prefix + name, P: a, Q: b, Zero: zero, Dir: dir})
		if r > 0 {
			p.Segs = append(p.Segs, laidSeg{P: b, Q: next, C: &corner})
		}
	}
	side("south", xy{x0 + r, y0}, xy{x1 - r, y0}, r, 1, xy{x1 - r, y0 + r}, xy{x1, y0 + r})
	side("east", xy{x1, y0 + r}, xy{x1, y1 - r}, r, 1, xy{x1 - r, y1 - r}, xy{x1 - r, y1})
	side("north", xy{x1 - r, y1}, xy{x0 + r, y1}, w-r, -1, xy{x0 + r, y1 - r}, xy{x0, y1 - r})
	side("west", xy{x0, y1 - r}, xy{x0, y0 + r}, h-r, -1, xy{x0 + r, y0 + r}, xy{x0 + r, y0})
	return p
}

// circle is a rim about a centre, as two arcs from its east point.
func circle(prefix string, c xy, d float64) laidProfile {
	e, w := xy{c[0] + d/2, c[1]}, xy{c[0] - d/2, c[1]}
	return laidProfile{Name: strings.TrimSuffix(prefix, "."), Segs: []laidSeg{
		{Edge: prefix + "rim", P: e, Q: w, C: &c, Dir: 1}, {Edge: prefix + "rim", P: w, Q: e, C: &c, Zero: math.Pi * d / 2, Dir: 1}}}
}

// slot is a rim of two lines and two half circles, from the west end of its
// south side, turned about its centre.
func slot(prefix string, c xy, l, w, turned float64) laidProfile {
	sin, cos := math.Sincos(turned * math.Pi / 180)
	at := func(x, y float64) xy { return xy{c[0] + x*cos - y*sin, c[1] + x*sin + y*cos} }
	k, r := (l-w)/2, w/2
	ce, cw := at(k, 0), at(-k, 0)
	return laidProfile{Name: strings.TrimSuffix(prefix, "."), Segs: []laidSeg{
		{Edge: prefix + "rim", P: at(-k, -r), Q: at(k, -r), Dir: 1},
		{Edge: prefix + "rim", P: at(k, -r), Q: at(k, r), C: &ce, Zero: 2 * k, Dir: 1},
		{Edge: prefix + "rim", P: at(k, r), Q: at(-k, r), Zero: 2*k + math.Pi*r, Dir: 1},
		{Edge: prefix + "rim", P: at(-k, r), Q: at(-k, -r), C: &cw, Zero: 4*k + math.Pi*r, Dir: 1}}}
}

// pen is an outline drawn piece by piece from the origin.
type pen struct {
	segs []laidSeg
	text []string
	nib  xy
}

func (d *pen) line(name string, to xy) {
	d.segs = append(d.segs, laidSeg{Edge: name, P: d.nib, Q: to, Dir: 1})
	d.text = append(d.text, fmt.Sprintf("line %s to %s", name, point(to)))
	d.nib = to
}

func (d *pen) arc(name string, to, around xy, clockwise bool) {
	d.segs = append(d.segs, laidSeg{Edge: name, P: d.nib, Q: to, C: &around, CW: clockwise, Dir: 1})
	word := ""
	if clockwise {
		word = " clockwise"
	}
	d.text = append(d.text, fmt.Sprintf("arc %s to %s around %s%s", name, point(to), point(around), word))
	d.nib = to
}

// drawn is an outline with a notch, a bite, a rounded and a cut corner, some of
// them, or with two notches; a notch or what is left between two is wide, or about neck.
func drawn(rnd *rand.Rand, w, h, neck float64) (laidProfile, string) {
	d := &pen{}
	switch about := whole(neck + 0.5*rnd.Float64() - 0.25); rnd.IntN(6) {
	case 0, 1, 2: // a narrow notch, or two with a tongue between
		a, n, deep := whole(w/2-5+4*rnd.Float64()), whole(3+2*rnd.Float64()), whole(2+2*rnd.Float64())
		if rnd.IntN(2) == 0 {
			n = about
		}
		d.line("south", xy{a, 0})
		d.line("left", xy{a, deep})
		d.line("bed", xy{a + n, deep})
		d.line("right", xy{a + n, 0})
		if n != about {
			b := whole(a + n + about)
			d.line("tip", xy{b, 0})
			d.line("left_2", xy{b, deep})
			d.line("bed_2", xy{b + n, deep})
			d.line("right_2", xy{b + n, 0})
		}
		d.line("south_2", xy{w, 0})
	case 3, 4:
		a, n, deep := whole(w/2-5+4*rnd.Float64()), whole(3+3*rnd.Float64()), whole(3+4*rnd.Float64())
		d.line("south", xy{a, 0})
		d.line("left", xy{a, deep})
		d.line("bed", xy{a + n, deep})
		d.line("right", xy{a + n, 0})
		d.line("south_2", xy{w, 0})
	default:
		d.line("south", xy{w, 0})
	}
	switch rnd.IntN(3) {
	case 0:
		r := whole(2 + 6*rnd.Float64())
		d.line("east", xy{w, h - r})
		d.arc("bend", xy{w - r, h}, xy{w - r, h - r}, false)
	case 1:
		c := whole(3 + 5*rnd.Float64())
		d.line("east", xy{w, h - c})
		d.line("cut", xy{w - c, h})
	default:
		d.line("east", xy{w, h})
	}
	if rnd.IntN(2) == 0 {
		x, r := whole(w/2-4+8*rnd.Float64()), whole(2+4*rnd.Float64())
		d.line("north", xy{x + r, h})
		d.arc("bite", xy{x - r, h}, xy{x, h}, true)
		d.line("north_2", xy{0, h})
	} else {
		d.line("north", xy{0, h})
	}
	d.segs = append(d.segs, laidSeg{Edge: "west", P: d.nib, Q: xy{}, Dir: 1})
	return laidProfile{Segs: d.segs}, fmt.Sprintf("outline { start (0 mm, 0 mm); %s; close west }", strings.Join(d.text, "; "))
}
