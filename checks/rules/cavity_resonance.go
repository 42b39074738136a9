package rules

import (
	"fmt"
	"math"
	"strings"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

var cavityResonance = &checks.Rule{
	Name: "cavity_resonance", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds: "What two planes enclose, neighbours or of one net past others, resonates in the board's band or within 10 % of it, or, from its sixth mode on, is dense in modes below the band.",
	Why: "At its resonance a pair of planes is no screen but a resonator: what is inside couples to everything else inside, and its open edges radiate. " +
		"The modes are worked out on the board's own shape with its cutouts and arcs, each plane as it is drawn. Both planes are joined along plated stretches of their net and its `layers`, and along fences of their net whose vias stand less than a twentieth of the wavelength apart; everywhere else the pair is open, and planes of two nets are open all round. " +
		"The permittivity is that of the dielectrics between them in series, 4.3 where the stack states none. A board that states one frequency is used up to it, one that states `frequency A to B` from A on. " +
		"A flat plane between two others stands square to their field and leaves it as it is: two planes of one net are a pair past whole planes, parts and islands between them, of any net and joined or not; exactly so where the dielectrics are alike. They are left out where a plane between covers them and is joined as they are, for its pairs with them have the same modes. Planes of two nets are a pair only as neighbours, not past an island. " +
		"Open edges fringe, which lowers a mode by up to a few per cent: the lower end of its range counts that, by no more than a plane over a wider one fringes. Capacitors, single vias and what a plane gives way to are not counted. Silent where the board states no frequency.",
	Source: "Pozar, Microwave Engineering (from memory); Hammerstad 1975 for open edges; the two terms of Weyl's conjecture for what is dense, Ivrii 1980 (from memory); the margin of a tenth is common practice",
	Bad:    cavity("2 GHz"),
	Good:   cavity("1.2 GHz"),
	NoWay:  "a change moves every mode of the cavity at once, and none is tried here: move the band, tie the planes closer, or part them",
	Run: func(p *checks.Pass) {
		low, high, ok := figures.Band(p.Board)
		if !ok {
			return
		}
		list, ok := p.Resonances(figures.Cavities(p.Board))
		if !ok {
			return // it is run again once they are worked out
		}
		if met, pairs, ok := meeting(list, low, high); ok {
			f := p.Board.Info().Frequency
			said := met.dense(p.Board, low, high)
			if said == "" {
				said = met.resonates(p.Board, low, high, pairs)
			}
			p.Report(f.At, []string{p.Board.Info().Name.Text}, "%s", said)
		}
	},
}

// met is a cavity with the first of its modes in a band.
type met struct {
	figures.Resonance
	first int
	in    int // how many of its modes are
	more  bool
}

// meeting is the cavity with the lowest mode in a band, or dense below it, with all
// modes in the band counted in it, and of how many pairs they are.
func meeting(list []figures.Resonance, low, high float64) (lowest met, pairs int, ok bool) {
	all, more := 0, false
	for _, r := range list {
		m := met{Resonance: r}
		m.first, m.in = r.InBand(low, high)
		full := len(r.Modes) == figures.ModesAsked
		m.more = full && r.Modes[len(r.Modes)-1].F < high*(1+figures.BandMargin)
		if m.first < 0 && m.more {
			m.first = len(r.Modes) - 1 // all six lie below the band
		}
		if m.first < 0 {
			continue
		}
		pairs, all, more = pairs+1, all+m.in, more || m.more
		if !ok || r.Modes[m.first].F < lowest.Modes[lowest.first].F {
			lowest, ok = m, true
		}
	}
	lowest.in, lowest.more = all, more
	return lowest, pairs, ok
}

// dense says that the cavity's sixth mode lies below the band; "" where it does not.
func (m met) dense(b *board.Board, low, high float64) string {
	from := low
	if low == 0 {
		from = high // a board that states one frequency: all six lie under it
	}
	if len(m.Modes) < figures.ModesAsked || m.Modes[figures.ModesAsked-1].Most >= from*(1-figures.BandMargin) {
		return ""
	}
	n := m.Dense(high*(1+figures.BandMargin)) - m.Dense(low*(1-figures.BandMargin))
	return fmt.Sprintf("the planes on %s are dense in modes from %s on, their sixth, below %s: about %.0f lie in it or within 10 %% of it, and no one of them can be moved out; %s",
		m.pair(), gigahertz(m.Modes[figures.ModesAsked-1].F), inWords(b), math.Max(n, 1), "screen by smaller cavities (fences across), or accept it for all of them")
}

// resonates says which mode meets the band, how many there are, and what moves it.
func (m met) resonates(b *board.Board, low, high float64, pairs int) string {
	mode := m.Modes[m.first]
	count := "it is the only one there"
	if m.in > 1 || m.more {
		more := ""
		if m.more {
			more = " or more"
		}
		count = fmt.Sprintf("%d modes%s lie there", m.in, more)
		if pairs > 1 {
			count += fmt.Sprintf(", of %d pairs of planes", pairs)
		}
	}
	where := "in"
	if mode.F > high || mode.F < low {
		where = "within 10 % of"
	}
	er := fmt.Sprintf("permittivity %.3g", m.Permittivity)
	if m.Assumed {
		er += ", taken where none is stated"
	}
	if m.Fringing > 0 {
		er = fmt.Sprintf("open edges fringe, up to %.2g %% lower; ", m.Fringing*100) + er
	}
	return fmt.Sprintf("the planes on %s resonate at %s (%s; %s), %s %s; %s; %s", m.pair(), gigahertz(mode.F), span(mode.Least, mode.Most), er, where, inWords(b), count, m.moves(b))
}

// pair names the two layers and their nets.
func (m met) pair() string {
	s := fmt.Sprintf("%s (%s) and %s (%s)", m.Upper, figures.NetOf(m.UpperNet), m.Lower, figures.NetOf(m.LowerNet))
	if len(m.Past) > 0 {
		s += ", past " + strings.Join(m.Past, " and ") + ","
	}
	if m.Part > 0 {
		s += fmt.Sprintf(", part %d of what they share,", m.Part)
	}
	return s
}

// moves says what moves the mode up.
func (m met) moves(b *board.Board) string {
	at := m.Modes[m.first].Field.Strongest()
	at = geom.Point{X: quantity.OfMetres(at.X), Y: quantity.OfMetres(at.Y)}
	near := "(" + millimetres(at.X) + ", " + millimetres(at.Y) + "), where its field is strongest"
	switch {
	case m.UpperNet == "" || m.LowerNet == "":
		return "say the planes' nets: what joins them moves it; it is strongest near " + near[:len(near)-len(", where its field is strongest")]
	case m.OneNet() && m.Electric == 0 && !m.Fenced:
		return "nothing joins these planes yet, and a first wall or via near the edge adds a lower one still: plate all the edge round them, or run a fence round it, to move it up"
	case !m.OneNet():
		return "vias cannot join two nets: to move it, let the planes end elsewhere, or put capacitors between them near " + near
	}
	if edge := bareNear(b, at, math.Sqrt(m.Area)*quantity.NmPerMetre/10); edge != "" {
		return "plating the bare edge " + edge + ", which carries it, or vias of " + m.UpperNet + " near " + near + ", move it up"
	}
	return "vias of " + m.UpperNet + " near " + near + ", move it up"
}

// bareNear is the edge that is bare within reach of a place, nearest to it; "" for none.
func bareNear(b *board.Board, at geom.Point, reach float64) (where string) {
	for _, p := range b.Profiles() {
		for _, s := range b.Finished(p).Bare {
			for _, g := range s.Segments() {
				if q, _, d := g.Nearest(at); d < reach {
					_, along, _ := p.Path.Nearest(q)
					if e := p.EdgeAt(along); e != nil {
						where, reach = e.Name, d
					}
				}
			}
		}
	}
	return where
}

// inWords is the board's band in a sentence.
func inWords(b *board.Board) string {
	i := b.Info()
	if i.FrequencyLow.Given() {
		return fmt.Sprintf("the board's band, %s to %s", i.FrequencyLow.Quantity, i.Frequency.Quantity)
	}
	return fmt.Sprintf("the board's band, up to %s", i.Frequency.Quantity)
}

func gigahertz(hz float64) string { return fmt.Sprintf("%.3g GHz", hz/1e9) }

// span is a range that a mode lies in, to as many digits as tell its ends apart.
func span(least, most float64) string {
	for digits := 3; ; digits++ {
		a, b := fmt.Sprintf("%.*g", digits, least/1e9), fmt.Sprintf("%.*g", digits, most/1e9)
		if a != b || digits == 6 {
			return a + " to " + b + " GHz"
		}
	}
}

// millimetres is a place to a millimetre: fields are known on a grid of about that.
func millimetres(nm float64) string {
	return fmt.Sprintf("%.0f mm", math.Round(quantity.InMillimetres(nm))+0)
}
