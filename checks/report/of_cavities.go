package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
)

// Cavity is what two planes enclose, with its modes.
type Cavity struct {
	Pair         string   `json:"pair"` // the two layers, "ground to power", "ground to bottom, past power"
	Nets         []string `json:"nets"`
	Permittivity float64  `json:"permittivity"` // of what lies between them, in series
	Area         float64  `json:"areaMm2"`
	Joined       float64  `json:"joinedPercent"` // of its edge that both planes are plated along
	Fenced       bool     `json:"fenced"`
	Modes        []Figure `json:"modes"` // GHz, the lowest first
	DenseFrom    *float64 `json:"denseFromGHz,omitempty"`
	Dense        string   `json:"dense,omitempty"` // how many more there are
	Note         string   `json:"note,omitempty"`
}

// resonances works out the modes of a board's cavities.
func resonances(b *board.Board, modes *figures.Store) []figures.Resonance {
	cavities := figures.Cavities(b)
	_ = modes.WorkOut(context.Background(), cavities) // which never ends first
	list, _ := modes.Resonances(cavities)
	return list
}

// CavityOf is a cavity's figures.
func CavityOf(b *board.Board, r figures.Resonance) Cavity {
	c := Cavity{Pair: r.Title(), Nets: []string{r.UpperNet, r.LowerNet}, Permittivity: r.Permittivity, Area: r.Area * 1e6, Joined: r.Electric * 100, Fenced: r.Fenced, Modes: []Figure{}}
	for i, m := range r.Modes {
		c.Modes = append(c.Modes, is(fmt.Sprintf("mode %d", i+1), m.F/1e9, "GHz").within(m.Least/1e9, m.Most/1e9))
	}
	low, high, banded := figures.Band(b)
	if n := len(r.Modes); n == figures.ModesAsked {
		from := r.Modes[n-1].F / 1e9
		c.DenseFrom = &from
		if c.Dense = fmt.Sprintf("dense from %.3g GHz", from); banded && high > from*1e9 {
			c.Dense += fmt.Sprintf(", about %.0f in the band", r.Dense(high)-r.Dense(low))
		}
	}
	var notes []string
	if r.Err != nil {
		notes = append(notes, noModes(r.Err))
	}
	if r.Assumed {
		notes = append(notes, "permittivity 4.3 taken where none is stated")
	}
	if s := fringes(r); s != "" {
		notes = append(notes, s+", counted in the ranges")
	}
	for _, f := range r.TooWide {
		notes = append(notes, fmt.Sprintf("fence %s does not count, its vias stand more than a twentieth of the wavelength apart", f.Name.Text))
	}
	if len(r.Modes) == 0 && r.Err == nil && banded {
		notes = append(notes, "none up to 1.5 times the band")
	}
	c.Note = strings.Join(notes, "; ")
	return c
}

// fringes says by how much a cavity's modes may lie lower because open edges fringe; ""
// where no mode is told, or none does.
func fringes(r figures.Resonance) string {
	if len(r.Modes) == 0 || r.Fringing == 0 {
		return ""
	}
	return fmt.Sprintf("open edges fringe: up to %.2g %% lower", r.Fringing*100)
}

// noModes says why there are no modes to be had.
func noModes(err error) string { return "cannot be worked out: " + err.Error() }

// FirstMode is the figure of a cavity's first mode.
func FirstMode(r figures.Resonance) Figure {
	name := "first mode, " + r.Title()
	switch {
	case r.Err != nil:
		return told(name, noModes(r.Err))
	case len(r.Modes) == 0:
		return told(name, "none up to 1.5 times the band")
	}
	m := r.Modes[0]
	f := is(name, m.F/1e9, "GHz").within(m.Least/1e9, m.Most/1e9).with(fmt.Sprintf("permittivity %.3g", r.Permittivity))
	if s := fringes(r); s != "" {
		f = f.with(s)
	}
	return f
}

// cavitiesPart lists the cavities with their modes.
func (r *Report) cavitiesPart() part {
	p := part{title: "modes of the planes", head: []string{"planes", "nets", "permittivity", "of the edge joined, %", "modes, GHz", ""}, right: []bool{false, false, true, true, false, false}}
	for _, c := range r.Cavities {
		says := []string{c.Dense, c.Note}
		if c.Fenced {
			says = append([]string{"fenced"}, says...)
		}
		var modes []string
		for _, m := range c.Modes {
			modes = append(modes, number(*m.Value, "GHz"))
		}
		p.rows = append(p.rows, []string{c.Pair, c.nets(), number(c.Permittivity, "of 1"), number(c.Joined, "%"), strings.Join(modes, ", "),
			strings.Join(slices.DeleteFunc(says, func(s string) bool { return s == "" }), "; ")})
	}
	return p
}

// nets names the nets of both planes.
func (c Cavity) nets() string {
	if c.Nets[0] == c.Nets[1] {
		return figures.NetOf(c.Nets[0])
	}
	return figures.NetOf(c.Nets[0]) + ", " + figures.NetOf(c.Nets[1])
}
