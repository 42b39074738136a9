package notes

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// tests are those that can tell a wall from none where its resistance cannot.
const tests = "face to face on a stretch with no via beside it, a coupon whose wall is tied to nothing, or a microsection"

// continuity says what to measure where that can tell a wall from none, and else
// what can, once for all walls; its figures were computed, and it says so.
func (m *maker) continuity(list []figures.Continuity) {
	stated := m.b.CriterionOf("continuity")
	var blind []figures.Continuity
	for _, l := range list {
		from := at(l.Stretch.Plating.Keyword)
		switch {
		case stated.Answers():
			limit := stated.Maximum.Quantity
			m.say(Continuity, append(from, stated.Clause), "Measure the wall four-wire %s: at most %s at 20 °C.", m.where(l), limit)
			if says := wrong(l, limit); says != "" {
				m.say(Continuity, append(from, stated.Clause), "At stretch %s that limit %s.", m.labels[l.Stretch], says)
			}
		case l.Tells():
			m.say(Continuity, from, "Measure the wall four-wire %s: at most %s mΩ at 20 °C; agree the limit.", m.where(l), milliohms(l.Maximum()))
		default:
			blind = append(blind, l)
			continue
		}
		m.computed(l)
	}
	if len(blind) > 0 {
		m.blind(blind)
	}
}

// where is between which ends a wall is measured.
func (m *maker) where(l figures.Continuity) string {
	if l.Stretch.Round() {
		return fmt.Sprintf("across stretch %s, all round, between %s and %s", m.labels[l.Stretch], point(l.From), point(l.To))
	}
	return fmt.Sprintf("from end to end of stretch %s, the longest of its plating", m.labels[l.Stretch])
}

// computed says what a wall's resistance was worked out as.
func (m *maker) computed(l figures.Continuity) {
	if l.Wide {
		m.say(Continuity, at(l.Stretch.Plating.Keyword), "Of stretch %s no resistance is computed: a wrap wider than %g %% of the way between the probes does not carry evenly.", m.labels[l.Stretch], figures.WideWrap*100)
		return
	}
	m.say(Continuity, at(l.Stretch.Plating.Keyword), "Computed for even copper, stretch %s: %s.", m.labels[l.Stretch], m.both(l))
}

// blind says of which walls the resistance tells nothing, and what does.
func (m *maker) blind(list []figures.Continuity) {
	by, chosen := m.judged()
	var straight, where []string
	var from []source.Place
	for _, l := range list {
		if from = append(from, l.Stretch.Plating.Keyword); l.Stretch.Round() {
			where = append(where, m.where(l))
		} else {
			straight = append(straight, m.labels[l.Stretch])
		}
	}
	if n := len(straight); n > 0 {
		where = append([]string{"from end to end of " + counted("stretch", "stretches", straight) + plural(n, ", the longest of its plating", ", the longest of their platings")}, where...)
	}
	tells := "resistance does not tell a wall from none"
	if slices.ContainsFunc(list, func(l figures.Continuity) bool { return l.Bounds }) {
		tells = "no resistance is known that tells a wall from none"
	}
	m.say(Continuity, append(from, chosen...), "Measured %s, %s.", strings.Join(where, ", or "), tells)
	for _, l := range list {
		m.computed(l)
	}
	if m.facesApart(list[0]) && !m.b.CriterionOf("coupon").Is("required") {
		m.say(Continuity, from, "Measure it four-wire from face to face, %s, at the ends and middle of each stretch; agree the limit.", rims(list[0].Stretch.Plating))
		m.say(Continuity, from, "Nothing else that is stated joins the faces; where the artwork does, agree another test.")
		if len(chosen) == 0 {
			return
		}
	}
	m.say(Continuity, append(from, chosen...), "%s.", by)
}

// facesApart tells whether nothing that is stated joins the wrap on the one face to
// that on the other but a plating's wall, which has ends, as on a coupon.
func (m *maker) facesApart(l figures.Continuity) bool {
	p := l.Stretch.Plating
	if l.Vias || l.Stretch.Round() || len(l.Layers)+len(l.Beside) > 0 || len(m.b.Planes())+len(m.b.Features())+len(m.b.Fences())+len(m.b.Holes()) > 0 {
		return false
	}
	for _, x := range m.b.Platings() {
		if x != p && m.b.Runs(x) {
			return false
		}
	}
	return !slices.ContainsFunc(m.b.Castellations(), func(c *board.Castellation) bool { return slices.Contains(p.Edges(), c.Edge.Name) })
}

// rims are between what of a wall its faces are measured.
func rims(p *board.Plating) string {
	top, bottom := p.Wrap[board.Top].Value > 0, p.Wrap[board.Bottom].Value > 0
	switch {
	case top && bottom:
		return "between its wraps"
	case top:
		return "from its wrap to its rim on the bottom"
	case bottom:
		return "from its wrap to its rim on top"
	}
	return "between its rims"
}

// wrong says what a stated limit may do to boards, "" where it tells them apart.
func wrong(l figures.Continuity, limit quantity.Quantity) string {
	var says []string
	if l.Rejects(limit) {
		least, most := l.Sound()
		says = append(says, fmt.Sprintf("may reject sound boards (%s to %s mΩ)", milliohms(least), milliohms(most)))
	}
	if l.Passes(limit) {
		says = append(says, "may pass boards without that wall")
	}
	return strings.Join(says, ", and ")
}

// both are the resistances with the wall and without it, and what the current then
// takes.
func (m *maker) both(l figures.Continuity) string {
	with, none := "about "+milliohms(l.With)+" mΩ", math.IsInf(l.Without, 1)
	if l.Bounds {
		with = "at most " + milliohms(l.With) + " mΩ"
	}
	if len(l.Beside) > 0 {
		return fmt.Sprintf("%s with the wall; what %s %s of its net, which %s it, carries without it was not worked out", with, plural(len(l.Beside), "feature", "features"), listed(l.Beside), plural(len(l.Beside), "meets", "meet"))
	}
	switch {
	case none && l.Vias:
		return fmt.Sprintf("%s; nothing but this wall joins the two points, as long as no vias join %s", with, m.planes(l))
	case none:
		return with + "; nothing but this wall joins the two points"
	case l.Bounds && l.Without == 0:
		return with + " with the wall; what there is without it was not worked out"
	case l.Bounds:
		return fmt.Sprintf("%s with the wall, at least %s mΩ without it, through %s", with, milliohms(l.Without), m.through(l))
	}
	says := fmt.Sprintf("%s with the wall, %s mΩ without it, through %s", with, milliohms(l.Without), m.through(l))
	if l.Vias && l.Tells() {
		says += "; vias that join planes are not counted"
	}
	return says
}

// through is what carries the current where the wall is missing.
func (m *maker) through(l figures.Continuity) string {
	var ways []string
	p := l.Stretch.Plating
	if p.Wrap[board.Top].Value > 0 || p.Wrap[board.Bottom].Value > 0 {
		ways = append(ways, "its wraps")
	}
	if len(l.Layers) > 0 {
		ways = append(ways, m.planes(l))
	}
	if len(ways) == 0 {
		return "other plated copper"
	}
	return strings.Join(ways, " and ")
}

// planes are those that count, "the planes on layers top, gnd".
func (m *maker) planes(l figures.Continuity) string {
	layers := l.LayerNames(m.b)
	return fmt.Sprintf("the %s on %s %s", plural(len(layers), "plane", "planes"), plural(len(layers), "layer", "layers"), listed(layers))
}

// judged is what the criteria judge the wall by instead, or what could be agreed.
func (m *maker) judged() (by string, from []source.Place) {
	coupon, section := m.b.CriterionOf("coupon"), m.b.CriterionOf("microsection")
	switch {
	case coupon.Is("required") && section.Answers():
		return "Judge the wall by the coupon and the microsections", append(at(coupon.Clause), section.Clause)
	case coupon.Is("required"):
		return "Judge the wall by the coupon, where it is tied to nothing", at(coupon.Clause)
	case section.Answers():
		return "Judge the wall by the microsections", at(section.Clause)
	}
	return "Agree a test that can tell a wall from none: " + tests, nil
}

// milliohms is a resistance without its unit.
func milliohms(ohm float64) string { return strings.TrimSuffix(wording.Milliohms(ohm), " mΩ") }
