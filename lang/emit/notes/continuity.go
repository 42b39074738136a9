package notes

import (
	"fmt"
	"math"
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
// what can; its figures were computed, and it says so.
func (m *maker) continuity(list []figures.Continuity) {
	stated := m.b.CriterionOf("continuity")
	for _, l := range list {
		s := l.Stretch
		from := at(s.Plating.Keyword)
		where := fmt.Sprintf("from end to end of %s, its longest stretch, between %s and %s", m.labels[s], point(l.From), point(l.To))
		if s.Round() {
			where = fmt.Sprintf("across %s, all round, between %s and %s", m.labels[s], point(l.From), point(l.To))
		}
		computed := "computed for even copper: " + m.both(l)
		switch {
		case stated.Answers():
			m.say(Continuity, append(from, stated.Clause), "%s: measure the wall four-wire %s: at most %s at 20 °C%s (%s).", plating(s.Plating), where, stated.Maximum.Quantity, wrong(l, stated.Maximum.Quantity), computed)
		case l.Tells():
			m.say(Continuity, from, "%s: measure the wall four-wire %s: at most %s mΩ at 20 °C (%s; agree the limit).", plating(s.Plating), where, milliohms(l.Maximum()), computed)
		default:
			by, chosen := m.judged()
			m.say(Continuity, append(from, chosen...), "%s: measuring the resistance %s does not tell a wall from none (%s); %s.", plating(s.Plating), where, computed, by)
		}
	}
}

// wrong says what a stated limit may do to boards, "" where it tells them apart.
func wrong(l figures.Continuity, limit quantity.Quantity) (says string) {
	if l.Rejects(limit) {
		least, most := l.Sound()
		says = fmt.Sprintf(". That may reject sound boards: about %s mΩ (%s to %s) is worked out with the wall", milliohms(l.With), milliohms(least), milliohms(most))
	}
	if l.Passes(limit) {
		says += ". A board without that wall may pass"
	}
	return says
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
		return "judge the wall by the coupon and the microsections", append(at(coupon.Clause), section.Clause)
	case coupon.Is("required"):
		return "judge the wall by the coupon, where it is tied to nothing", at(coupon.Clause)
	case section.Answers():
		return "judge the wall by the microsections", at(section.Clause)
	}
	return "agree a test that can: " + tests, nil
}

// milliohms is a resistance without its unit.
func milliohms(ohm float64) string { return strings.TrimSuffix(wording.Milliohms(ohm), " mΩ") }
