package figures

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// MostTold is the level, dB, above which a bound by openings tells nothing: seams,
// connectors and what couples past the wall then count more. Our own judgement.
const MostTold = 60.0

// Shield is what the ring round the board lets through: the outline's wall, with all
// that is bare between its plated stretches. Cutouts' walls are no part of it.
type Shield struct {
	Lambda float64 // the wavelength in the board at its highest frequency, nm
	waves  waves
	// Openings are the ring's, in order along the outline's path.
	Openings []Opening
	// Elsewhere is how many openings cutouts' walls have.
	Elsewhere int
	// Drawn and Worst are what leaks most as drawn, and with the tolerances that count.
	Drawn, Worst Leak
}

// Leak is what of a ring leaks together: openings within half a wavelength of each
// other along the outline, taken in phase.
type Leak struct {
	// Sum is how long they are together, nm; 0 where nothing known is open.
	Sum float64
	DB  float64 // the bound that they set; without end where nothing known is open
	// Half is half of the wavelength, nm, at which they leak most: the board's shortest
	// one's, or a longer one's within its band.
	Half float64
	// Of are the openings that count, in order along the window, as Shield has them.
	Of []int
}

// None tells whether nothing is held back.
func (l Leak) None() bool { return l.DB == 0 }

// Told tells whether the bound is one to be told: something known is open, and it
// is not so little that the model ends.
func (l Leak) Told() bool { return l.DB <= MostTold }

// waves are the wavelengths in a board, nm, at the two ends of its band, the same where
// it states one frequency.
type waves struct{ shortest, longest float64 }

func wavesIn(b *board.Board, lambda float64) waves {
	w := waves{lambda, lambda}
	if low := b.Info().FrequencyLow; low.Given() && low.Value > 0 {
		w.longest = lambda * b.Info().Frequency.Value / low.Value
	}
	return w
}

// ShieldOf works a board's shield out; ok is false where no frequency is stated, and
// where nothing walls the outline in, neither plating nor a fence.
func ShieldOf(b *board.Board, tolerances Tolerances) (s Shield, ok bool) {
	lambda, known := WavelengthIn(b)
	if !known || b.Outline() == nil {
		return s, false
	}
	s.Lambda, s.waves = lambda, wavesIn(b, lambda)
	for _, o := range Openings(b, tolerances) {
		if o.Stretch.Profile == b.Outline() {
			s.Openings = append(s.Openings, o)
		} else {
			s.Elsewhere++
		}
	}
	if len(b.Finished(b.Outline()).Plated) == 0 && !slices.ContainsFunc(s.Openings, func(o Opening) bool { return o.Behind != nil }) {
		return s, false
	}
	round := b.Outline().Path.Perimeter()
	s.Drawn, s.Worst = leakOf(s.Openings, s.waves, round, false), leakOf(s.Openings, s.waves, round, true)
	return s, true
}

// Alone is the bound that one opening sets by itself, as drawn and at worst; one that
// is closed as drawn sets none there.
func (o Opening) Alone(lambda float64) Bound {
	round := o.Stretch.Profile.Path.Perimeter()
	one := []Opening{o}
	return Bound{leakOf(one, waves{lambda, lambda}, round, false).DB, leakOf(one, waves{lambda, lambda}, round, true).DB}
}

// AsGuide is what an opening holds back as a short waveguide below its cut-off, dB: as
// deep as the copper beside it reaches inward on both faces, the lesser wrap of the
// platings that end there. It is another way to reckon, not to be added. ok is false
// where a wrap is missing or no frequency is stated, at or above cut-off, and where nothing is open as drawn.
func (o Opening) AsGuide(b *board.Board) (dB float64, ok bool) {
	if b.Info() == nil || !b.Info().Frequency.Given() || o.Nominal == 0 || o.ends[0] == nil || o.ends[1] == nil {
		return 0, false
	}
	depth := math.Inf(1)
	for _, p := range o.ends {
		for _, f := range board.Faces {
			depth = math.Min(depth, p.Wrap[f].Value)
		}
	}
	er, _ := Permittivity(b)
	return physics.DeepOpening(quantity.InMetres(o.Stretch.Length()), quantity.InMetres(depth), b.Info().Frequency.Value, er)
}

// LongestOf is which of the openings that leak together is longest, and Longest that one.
func (s Shield) LongestOf(l Leak, worst bool) int {
	return slices.MaxFunc(l.Of, func(a, b int) int {
		return cmp.Compare(s.Openings[a].of(worst), s.Openings[b].of(worst))
	})
}

// Longest is the longest of the openings that leak together.
func (s Shield) Longest(l Leak, worst bool) Opening { return s.Openings[s.LongestOf(l, worst)] }

// Frequency is where in its band a board's openings leak most.
func (l Leak) Frequency(b *board.Board) quantity.Quantity {
	f := b.Info().Frequency
	lambda, _ := WavelengthIn(b)
	if l.Half <= lambda/2*(1+1e-6) {
		return f.Quantity
	}
	v, _ := strconv.ParseFloat(strconv.FormatFloat(f.Value*lambda/2/l.Half, 'g', 3, 64), 64)
	return quantity.Quantity{Value: v, Dim: quantity.Frequency}.As(f.Unit)
}

// AllowedSum is how long, nm, openings within half a wavelength may be together for a
// wall that is to hold back so much, dB.
func AllowedSum(lambda, shielding float64) float64 {
	l, _ := physics.LongestOpening(quantity.InMetres(lambda), shielding)
	return quantity.OfMetres(l)
}

// Narrowed is what the ring leaks at worst with one of its openings narrower by so
// much, nm, half of it at either end; ok is false where it is not so long, or no gap's.
func (s Shield) Narrowed(i int, by float64) (l Leak, ok bool) {
	o := s.Openings[i]
	if o.Gap == nil || o.Behind != nil || o.Stretch.Length() <= by+o.height.Worst {
		return l, false
	}
	o.Stretch.From, o.Stretch.To = o.Stretch.From+by/2, o.Stretch.To-by/2
	o.atWorst.From, o.atWorst.To = o.atWorst.From+by/2, o.atWorst.To-by/2
	o.Nominal, o.Worst = o.Nominal-by, o.Worst-by
	list := slices.Clone(s.Openings)
	list[i] = o
	return leakOf(list, s.waves, o.Stretch.Profile.Path.Perimeter(), true), true
}

// AtMost is a bound as people read it: "at most 12.3 dB".
func AtMost(dB float64) string {
	switch {
	case math.IsInf(dB, 1):
		return "no bound"
	case dB == 0:
		return "nothing held back"
	case dB > MostTold:
		return fmt.Sprintf("over %g dB", MostTold)
	}
	return fmt.Sprintf("at most %.3g dB", dB)
}

// Says is what a shield's openings allow, in words.
func Says(s Shield) string {
	switch {
	case s.Worst.Sum == 0:
		return "no opening known"
	case s.Drawn.None():
		return "none: openings within half a wavelength are longer than that"
	case s.Drawn.Sum == 0:
		return "no opening known as drawn, at worst " + AtMost(s.Worst.DB)
	case s.Worst.DB < s.Drawn.DB && s.Worst.Told():
		return AtMost(s.Drawn.DB) + ", at worst " + strings.TrimPrefix(AtMost(s.Worst.DB), "at most ")
	}
	return AtMost(s.Drawn.DB)
}
