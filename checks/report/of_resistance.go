package report

import (
	"fmt"
	"math"
	"strings"

	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// usualRise is the rise that currents are shown for where the board states none, K.
const usualRise = 10

// resistances are what hover shows too.
func resistances(b *board.Board, p *board.Plating, c *figures.Conductors, long, height float64, known bool) []Figure {
	switch {
	case !known:
		return []Figure{none("resistance", noThickness)}
	case long <= 0:
		return []Figure{none("resistance", "it plates nothing, or nothing that no plating stated before it plates")}
	}
	m, ok := c.Along(p)
	between := "of the wall alone, at 20 °C, smooth copper"
	if ok && m.Stretch.Round() {
		between += ", between opposite points: it runs all round"
	}
	sheet, _ := physics.SheetResistance(physics.Rho20, quantity.InMetres(p.Copper.Value))
	across, also := physics.StripResistance(sheet, quantity.InMetres(height), quantity.InMetres(long))
	rise, whose := riseOf(b)
	hot, heated := physics.Resistivity(20 + rise)
	list := []Figure{
		is("resistance of the wall's sheet", sheet*1000, "mΩ").with("a square, at 20 °C"),
		of("resistance along the longest stretch", m.Wall*1000, ok, "mΩ", noCopper).with(between),
		of(fmt.Sprintf("resistance there at %.4g °C", 20+rise), m.Wall*1000*hot/physics.Rho20, ok && heated, "mΩ", "outside −100 to 200 °C").with("20 °C and a rise of " + whose),
	}
	return append(list,
		of("resistance from face to face", across*1000, also, "mΩ", noCopper).with("all stretches side by side"),
		currentOf(b, p, rise, whose))
}

// whyNone says why there is no limit to ask for.
func whyNone(m figures.Continuity) string {
	if len(m.Beside) > 0 {
		return "copper of its net that meets it is not counted: " + strings.Join(m.Beside, ", ")
	}
	if m.Wide {
		return fmt.Sprintf("a wrap is wider than %g %% of the way between the probes, and does not carry evenly along it", figures.WideWrap*100)
	}
	if m.Bounds {
		return "what the planes that it is tied to carry cannot be worked out: they are too odd, or too wide to be cut finely enough for this stretch"
	}
	return "a missing wall would change the resistance there by less than a factor of two"
}

func limitNote(m figures.Continuity) string {
	note := "four-wire, at 20 °C: √2 times what it is with the wall; without the wall it is twice as much or more"
	if m.Vias {
		note += ", as long as no vias join the planes"
	}
	return note
}

// riseOf is the rise of temperature that figures are shown for, K, and whose it is.
func riseOf(b *board.Board) (kelvin float64, whose string) {
	if i := b.Info(); i != nil && i.Rise.Given() {
		return i.Rise.Value, i.Rise.Quantity.String() + ", the board's"
	}
	return usualRise, fmt.Sprintf("%d K", usualRise)
}

func currentOf(b *board.Board, p *board.Plating, rise float64, whose string) Figure {
	name := fmt.Sprintf("current along the wall for %.4g K", rise)
	c, ok := figures.Current(b, p, rise)
	if !ok {
		return none(name, fmt.Sprintf("the formula does not apply: a rise outside %g to %g K", physics.RiseLeast, physics.RiseMost))
	}
	if c.Amperes == 0 {
		return none(name, "the formula does not apply to "+c.Beyond)
	}
	f := is(name, c.Amperes, "A").bound(atLeast).with("through " + c.Sections)
	if c.Beyond != "" {
		return f.with("as far as the formula reaches: it does not apply to " + c.Beyond)
	}
	return f
}

// tiedFigures are what the planes make of it, which takes some time: the report
// alone shows them.
func tiedFigures(b *board.Board, c *figures.Conductors, p *board.Plating) (list []Figure) {
	m, ok := c.Continuity(p)
	if !ok {
		return nil
	}
	v, ok := c.Measured(p) // as m, and more
	if !ok {
		m.Beside = nil // of the limit alone
		return []Figure{none("resistance with all that is tied", whyNone(m))}
	}
	limit := of("continuity limit to ask for there", m.Maximum()*1000, m.Tells(), "mΩ", whyNone(m))
	if limit.Value != nil {
		limit = limit.with(limitNote(m))
	}
	list = append(list, limit)
	note := "the wall and its wraps"
	if layers := v.LayerNames(b); len(layers) > 0 {
		note += ", planes on " + strings.Join(layers, ", ")
	}
	low, high := m.Sound()
	list = append(list, is("resistance with all that is tied", v.With*1000, "mΩ").within(low*1000, high*1000).with(fmt.Sprintf("%s; at 20 °C, copper within %g %% of what is stated", note, figures.Spread*100)))
	for _, x := range []struct {
		name string
		ohms float64
	}{
		{"resistance without this wall", v.Without}, {"resistance with half its copper", v.Half}, {"resistance with a fifth of it missing", v.Holed},
	} {
		if math.IsInf(x.ohms, 1) {
			list = append(list, none(x.name, "nothing else joins the two points"))
			continue
		}
		list = append(list, is(x.name, x.ohms*1000, "mΩ").with(times(x.ohms/v.With)))
	}
	if !m.Tells() {
		list = append(list, told("test of the wall", "its resistance does not tell it from none; face to face on a stretch with no via beside it, a coupon whose wall is tied to nothing, or a microsection does"))
	}
	rise, _ := riseOf(b)
	for _, t := range figures.TiesOf(b, p) {
		name := fmt.Sprintf("current into the plane on %s for %.4g K", t.Plane.Name.Text, rise)
		amperes, ok := figures.IntoPlane(b, t.Plane, t.Length, rise)
		f := of(name, amperes, ok, "A", "the formula does not apply: copper under 17.5 µm, a current past its end or a rise outside 10 to 100 K")
		if ok {
			f = f.bound(atLeast).with(fmt.Sprintf("tied along %.3g mm, of which the formula counts 10.16 mm at most", quantity.InMillimetres(t.Length)))
		}
		list = append(list, f)
	}
	return list
}

// times says how many times as much something is: "1.03 times as much".
func times(ratio float64) string {
	if says := fmt.Sprintf("%.3g", ratio); says != "1" {
		return says + " times as much"
	}
	return "as much as with it"
}
