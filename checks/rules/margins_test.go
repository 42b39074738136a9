package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// marginOf is the margin of a rule by a limit that is nearest to being missed.
func marginOf(text, rule, parameter string, most bool) (found checks.Margin, ok bool) {
	least := math.Inf(1)
	for _, m := range All().Margins(analyze(text), checks.Options{}) {
		left := m.Left().Value
		if m.Short {
			left = -left
		}
		if m.Rule.Name == rule && m.Limit.Parameter.Name == parameter && m.Most == most && left < least {
			found, least, ok = m, left, true
		}
	}
	return found, ok
}

// notWeighed are rules that hold no value to a limit's, as they run the bit; and limits that
// make what is measured and are not what it is held to.
var notWeighed = map[string]bool{"edge_shared": true, "edge_standing": true, "tab_waist": true, "tab_faces_board": true, "tab_flank": true, "mask_web mask_margin": true}

// On the board of each boundary the limit's own value is what the rule's margin says: nothing
// is left where it is met exactly, and it is short a nanometre below.
func TestMarginsOfLimitsMetExactly(t *testing.T) {
	weighed := 0
	for _, b := range boundaries {
		if notWeighed[b.rule] || notWeighed[b.rule+" "+b.parameter] || strings.HasPrefix(b.parameter, "tolerance_") && b.rule != "tolerance_fine" {
			continue
		}
		p, _ := checks.ParameterNamed(b.parameter)
		value, worse := p.Minimum, "(%s - 1 um)"
		if !b.minimum {
			value, worse = p.Maximum, "(%s + 1 um)"
		}
		if p.Dim == quantity.None {
			worse = "(%s * 1.001)"
		}
		m, ok := marginOf(fillIn(b.text, "("+value+")"), b.rule, b.parameter, !b.minimum)
		if !assert.True(t, ok, "%s weighs nothing by %s: %s", b.rule, b.parameter, b.text) {
			continue
		}
		assert.False(t, m.Short, "%s met exactly: %s", b.parameter, m.Sentence())
		assert.LessOrEqual(t, m.Left().Value, board.Tolerance, "%s met exactly: %s", b.parameter, m.Sentence())
		m, _ = marginOf(fillIn(b.text, fmt.Sprintf(worse, value)), b.rule, b.parameter, !b.minimum)
		assert.True(t, m.Short, "%s not met: %s", b.parameter, m.Sentence())
		weighed++
	}
	assert.Greater(t, weighed, 70)
}

// What a rule reports it weighs as short, at the same place, and the other way round: in
// every text of the repository.
func TestMarginsAgreeWithFindings(t *testing.T) {
	short, findings := 0, 0
	n := 0
	langtest.EveryText(t, "../..", func(name string, a *lang.Analysis) {
		if n++; raced && n%20 != 0 {
			return
		}
		at := func(place source.Place) string {
			_, span, _ := a.Locate(place)
			return fmt.Sprint(span)
		}
		var said []string
		found := All().Check(a, checks.Options{Later: true})
		all := found.Findings
		for _, x := range found.Accepted {
			all = append(all, x.Located)
		}
		for _, f := range all {
			said = append(said, f.Rule+" "+at(f.Place))
		}
		var weighed []string
		for _, m := range All().Margins(a, checks.Options{}) {
			if m.Short {
				short++
				weighed = append(weighed, m.Rule.Name+" "+at(m.At))
				assert.Contains(t, said, m.Rule.Name+" "+at(m.At), "%s: %s", name, m.Sentence())
			}
		}
		for _, f := range all {
			if r := All().Named(f.Rule); r == nil || len(r.Limits) == 0 || notWeighed[f.Rule] || !measures(f.Finding) {
				continue
			}
			findings++
			assert.True(t, slices.Contains(weighed, f.Rule+" "+at(f.Place)), "%s: %s: %s", name, f.Rule, f.Message)
		}
	})
	t.Logf("%d margins that are short, %d findings of limits", short, findings)
	assert.Greater(t, short, 50)
	assert.Greater(t, findings, 50)
}

// measures tells whether a finding says what is and what is needed by a limit.
func measures(f finding.Finding) bool {
	return strings.Contains(f.Message, " is ") && strings.Contains(f.Message, "limit ") &&
		(strings.Contains(f.Message, "asks for at least") || strings.Contains(f.Message, "allows at most"))
}

// What is left is said as the rule measures it, with who asks for it and what tolerances leave.
func TestMarginsSay(t *testing.T) {
	for _, c := range []struct{ text, rule, parameter, says string }{
		{"fabricator shop { limit wrap_land minimum 0.4 mm }\n" + plated("wrap top 0.8 mm"), "wrap_land", "wrap_land",
			"wrap on top is 0.80 mm; shop asks for at least 0.40 mm (limit wrap_land, a.hem:1): **0.40 mm to spare**; at worst, with the outline's tolerance of 0.10 mm, which is common practice, it is 0.70 mm: 0.30 mm to spare"},
		{plated("wrap top 0.3 mm"), "wrap_land", "wrap_land",
			"wrap on top is 0.30 mm; common practice asks for at least 0.381 mm (limit wrap_land): **0.081 mm short**; at worst, with the outline's tolerance of 0.10 mm, which is common practice, it is 0.20 mm: 0.19 mm short"},
	} {
		m, ok := marginOf(c.text, c.rule, c.parameter, false)
		assert.True(t, ok)
		assert.Equal(t, c.says, m.Sentence())
	}
}
