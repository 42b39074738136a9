package notes

import (
	"fmt"
	"math"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/source"
)

// Limit is how one plating is measured along its longest stretch, and what that
// can tell.
type Limit struct {
	figures.Continuity
	// Measured is what it comes to with the planes, where the measurement tells nothing
	// and that is Known.
	Measured figures.Measured
	Known    bool
}

// tests are those that can tell a wall from none where its resistance cannot.
const tests = "face to face on a stretch with no via beside it, a coupon whose wall is tied to nothing, or a microsection"

// continuity says what to measure where that can tell a wall from none, and else
// what can; its figures were computed, and it says so.
func (m *maker) continuity(list []Limit) {
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
		case stated.Answers() && l.Tells():
			m.say(Continuity, append(from, stated.Clause), "%s: measure the wall four-wire %s: at most %s at 20 °C (%s).", plating(s.Plating), where, stated.Maximum.Quantity, computed)
		case stated.Answers():
			m.say(Continuity, append(from, stated.Clause), "%s: measure the wall four-wire %s: at most %s at 20 °C. A board without that wall may pass (%s).", plating(s.Plating), where, stated.Maximum.Quantity, computed)
		case l.Tells():
			m.say(Continuity, from, "%s: measure the wall four-wire %s: at most %s mΩ at 20 °C (%s; agree the limit).", plating(s.Plating), where, milliohms(l.Maximum()), computed)
		default:
			by, chosen := m.judged()
			m.say(Continuity, append(from, chosen...), "%s: measuring the resistance %s does not tell a wall from none (%s); %s.", plating(s.Plating), where, computed, by)
		}
	}
}

// both are the resistances with the wall and without it, and what the current then
// takes.
func (m *maker) both(l Limit) string {
	switch {
	case l.Tells() && math.IsInf(l.Without, 1):
		return fmt.Sprintf("at most %s mΩ; nothing but this wall joins the two points", milliohms(l.With))
	case l.Tells():
		return fmt.Sprintf("at most %s mΩ with the wall, at least %s mΩ without it, through %s", milliohms(l.With), milliohms(l.Without), m.through(l))
	case !l.Known:
		return fmt.Sprintf("at most %s mΩ with the wall; what there is without it was not worked out", milliohms(l.With))
	}
	return fmt.Sprintf("about %s mΩ with the wall, %s mΩ without it, through %s", milliohms(l.Measured.With), milliohms(l.Measured.Without), m.through(l))
}

// through is what carries the current where the wall is missing.
func (m *maker) through(l Limit) string {
	var ways []string
	p := l.Stretch.Plating
	if p.Wrap[board.Top].Value > 0 || p.Wrap[board.Bottom].Value > 0 {
		ways = append(ways, "its wraps")
	}
	if layers := l.Measured.LayerNames(m.b); len(layers) > 0 {
		ways = append(ways, fmt.Sprintf("the %s on %s %s", plural(len(layers), "plane", "planes"), plural(len(layers), "layer", "layers"), listed(layers)))
	}
	if len(ways) == 0 {
		return "other plated copper"
	}
	return strings.Join(ways, " and ")
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

// milliohms writes a resistance to three digits.
func milliohms(ohm float64) string {
	s := fmt.Sprintf("%.3g", ohm*1000)
	if strings.Contains(s, "e") {
		s = fmt.Sprintf("%.0f", ohm*1000)
	}
	return s
}
