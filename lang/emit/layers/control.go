package layers

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// control writes a numerical control file of drills or of paths as XNC has it:
// millimetres with their decimal points, absolute, finished diameters; no
// compensation, no repeats, no options of zeros. Paths are those of the bit's
// middle, and the tool's diameter is the width that it takes away. Source: XNC
// format specification, revision 2019.02.16, title and contents; what they hold
// from memory.
func (m *maker) control(p program) []byte {
	var w bytes.Buffer
	line := func(format string, args ...any) { fmt.Fprintf(&w, format+"\n", args...) }
	line("M48")
	for _, a := range m.attributes(p.function) {
		line("; #@! TF%s", a)
	}
	line("; %s", comment(p.about))
	if p.rout {
		line("; paths are of the bit's middle, to the finished edge: allow for plating in the first rout")
		line("; the board lies to the left of travel, outlines and cutouts alike")
	}
	line("; %s", comment(m.counted()))
	line("METRIC")
	for n, t := range p.tools {
		if t.aperture != "" {
			line("; #@! TA.AperFunction,%s", t.aperture)
		}
		line("; %s", comment(t.about))
		line("T%02dC%s", n+1, millimetres(t.diameter))
		if t.aperture != "" {
			line("; #@! TD")
		}
	}
	line("%%")
	if !p.rout {
		line("G05")
	}
	for n, t := range p.tools {
		line("T%02d", n+1)
		m.hits(line, t)
		for _, path := range t.paths {
			m.path(line, path)
		}
	}
	line("M30")
	return w.Bytes()
}

// hits writes a drill's holes, each after its net.
func (m *maker) hits(line func(string, ...any), t tool) {
	net := ""
	for k, h := range t.holes {
		if len(t.nets) > 0 && t.nets[k].Text != net {
			if net != "" {
				line("; #@! TD")
			}
			if net = t.nets[k].Text; net != "" {
				line("; #@! TO.N,%s", field(net))
			}
		}
		line("%s", xy(m.onGrid(h)))
	}
	if net != "" {
		line("; #@! TD")
	}
}

func (m *maker) path(line func(string, ...any), p path) {
	// A sixth of a turn: where a reader takes the nearer of two centres there is no doubt.
	steps := m.stepsOf(p.segs, math.Pi/3)
	line("; %s", comment(p.about))
	if len(steps) == 0 { // a plunge
		line("G00%s", xy(m.onGrid(p.segs[0].A)))
		line("M15")
		line("M16")
		return
	}
	line("G00%s", xy(steps[0].from))
	line("M15")
	for _, s := range steps {
		if s.mode == "G01" {
			line("G01%s", xy(s.to))
		} else {
			// Both ends are on the grid, and so the radius is known to ten of its steps.
			r := 10 * math.Round(math.Hypot(float64(s.centre.x-s.to.x), float64(s.centre.y-s.to.y))/10)
			line("%s%sA%s", s.mode, xy(s.to), millimetres(r))
		}
	}
	line("M16")
}

func xy(g grid) string { return "X" + decimal(g.x) + "Y" + decimal(g.y) }

// decimal writes nanometres as millimetres, exactly, with a decimal point.
func decimal(nm int64) string {
	sign := ""
	if nm < 0 {
		sign, nm = "-", -nm
	}
	s := fmt.Sprintf("%s%d.%06d", sign, nm/1e6, nm%1e6)
	s = strings.TrimRight(s, "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	return s
}

// millimetres writes a diameter.
func millimetres(nm float64) string { return decimal(int64(math.Round(nm))) }

func number(v float64, digits int) string { return strconv.FormatFloat(v, 'f', digits, 64) }
