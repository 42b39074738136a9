package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/syntax"
)

// What a text says that cannot be, or is beyond reason, is found at its place
// or makes no difference; it never makes a rule say something strange.

// head is the small plated board with something else for what it says of itself.
func headed(info, stack string) string {
	text := strings.Replace(platedWith("gap g of wall on west at middle width 5 mm", "fence f along south inset 2 mm pitch 2 mm hole 0.3 mm net GND",
		"plane on top net GND pullback 0.5 mm", "plane on bottom net GND pullback 0.5 mm"), "{ thickness 1.6 mm }", "{ "+info+" }", 1)
	return stack + text
}

const twoLayers = "stack { copper top 35 um; dielectric core 1.53 mm permittivity 4.3; copper bottom 35 um }\n"

func TestBadInput(t *testing.T) {
	cases := []struct {
		name, text string
		rule       string // the finding that must come; "" for none at all
		at         string // what it covers
	}{
		{"a frequency of 0", headed("frequency 0 GHz; shielding 20 dB", twoLayers), syntax.RuleWrongValue, "0 GHz"},
		{"a negative frequency", headed("frequency -1 GHz", twoLayers), syntax.RuleWrongValue, "-1 GHz"},
		{"a frequency too small to matter", headed("frequency 0.000001 Hz; shielding 0.001 dB", twoLayers), "not_verified", "0.001 dB"},
		{"a frequency beyond all waves", headed("frequency 1000000000000 GHz; shielding 20 dB", twoLayers), "opening_long", ""},
		{"a band that ends where it starts", headed("frequency 1 GHz to 1 GHz", twoLayers), "", ""},
		{"a band from 0", headed("frequency 0 Hz to 1 GHz", twoLayers), syntax.RuleWrongValue, "0 Hz"},
		{"a band backwards", headed("frequency 2 GHz to 1 GHz", twoLayers), syntax.RuleWrongValue, ""},
		{"shielding of 0", headed("frequency 1 GHz; shielding 0 dB", twoLayers), syntax.RuleWrongValue, "0 dB"},
		{"no current", headed("current 0 A; rise 10 K; thickness 1 mm", ""), syntax.RuleWrongValue, "0 A"},
		{"no rise", headed("current 1 A; rise 0 K; thickness 1 mm", ""), syntax.RuleWrongValue, "0 K"},
		{"a rise beyond the formula", headed("current 1 A; rise 5000 K; thickness 1 mm", ""), "", ""},
		{"a current beyond the formula", headed("current 1000000 A; rise 10 K; thickness 1 mm", ""), "wall_current", "1000000 A"},
		{"a negative permittivity", headed("frequency 1 GHz", strings.Replace(twoLayers, "4.3", "-4.3", 1)), syntax.RuleWrongValue, "-4.3"},
		{"a permittivity of 0", headed("frequency 1 GHz", strings.Replace(twoLayers, "4.3", "0", 1)), syntax.RuleWrongValue, "0"},
		{"a permittivity under 1", headed("frequency 1 GHz", strings.Replace(twoLayers, "4.3", "0.5", 1)), syntax.RuleWrongValue, "0.5"},
		{"a huge permittivity", headed("frequency 1 GHz", strings.Replace(twoLayers, "4.3", "1000000000000", 1)), "opening_long", ""},
		{"a stack without dielectrics", headed("frequency 1 GHz; shielding 10 dB", "stack { copper top 1.6 mm }\n"), "", ""},
		{"an empty stack", headed("frequency 1 GHz", "stack { }\n"), syntax.RuleMissingClause, ""},
		{"a stack of no thickness", headed("frequency 1 GHz", "stack { copper top 0 mm }\n"), syntax.RuleWrongValue, "0 mm"},
		{"a stack of two layers of one name", headed("frequency 1 GHz", "stack { copper top 35 um; copper top 35 um }\n"), board.RuleDuplicate, "top"},
		{"a wall of no length", exampleHead + "plating wall { along west from 5 mm to 5 mm; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.1 mm }\n", "stretch_empty", ""},
		{"a gap of no length", platedWith("gap g of wall on west from 5 mm to 5 mm"), "stretch_empty", ""},
		{"a wall that gaps take all of", platedWith("gap a of wall on west from 0 mm to 30 mm", "gap b of wall on east from 0 mm to 30 mm"), "", ""},
		{"a gap of no width", platedWith("gap g of wall on west at middle width 0 mm"), syntax.RuleWrongValue, "0 mm"},
		{"a gap backwards", platedWith("gap g of wall on west from 20 mm to 10 mm"), board.RuleOffEdge, ""},
		{"an acceptance of a rule that is not there", platedWith(`accept wrap_lend on wall because "x"`), board.RuleUnknownName, "wrap_lend"},
		{"an acceptance of no rule", platedWith(`accept nonsense on wall because "x"`), board.RuleUnknownName, "nonsense"},
		{"an acceptance of a finding of the text", platedWith(`accept wrong_value on wall because "x"`), board.RuleUnknownName, "wrong_value"},
		{"an acceptance on nothing", platedWith(`accept wrap_land on nobody because "x"`), "acceptance_unused", "wrap_land"},
		{"a day that there is not", platedWith(`accept wrap_land on wall because "x" until "2027-02-30"`), syntax.RuleWrongValue, `"2027-02-30"`},
		{"a month that there is not", platedWith(`accept wrap_land on wall because "x" until "2027-13-01"`), syntax.RuleWrongValue, `"2027-13-01"`},
		{"a date of another order", platedWith(`accept wrap_land on wall because "x" until "30.6.2027"`), syntax.RuleWrongValue, `"30.6.2027"`},
		{"a day of leap years in another", platedWith(`accept wrap_land on wall because "x" until "2027-02-29"`), syntax.RuleWrongValue, `"2027-02-29"`},
		{"a part far away", platedWith("feature f on top circle 1 mm at (90 m, -90 m) net GND"), "item_outside", ""},
		{"a part farther than lengths are read", platedWith("feature f on top circle 1 mm at (1000000 m, 0 mm) net GND"), syntax.RuleWrongValue, ""},
		{"an opening far away", platedWith("cutout c circle 1 mm at (90 m, 90 m)"), "cutout_outside", "c"},
		{"an opening larger than the board", platedWith("cutout c circle 90 m at (25 mm, 15 mm)"), "cutout_outside", "c"},
		{"a huge wrap", plated("wrap top 90 m", "wrap bottom 90 m"), "", ""},
		{"a huge pullback", platedWith("plane on top net GND pullback 90 m"), "", ""},
		{"a pin longer than the board", platedWith("connector c on west at middle { body 5 mm; pin top width 1 mm length 90 m }", "gap g of wall on west at middle width 5 mm for c"), "item_outside", ""},
		{"a tab of huge length", platedWith("tab t4 on north at 12 mm width 3 mm solid length 90 m"), "tab_weak", "3 mm"},
		{"a perforation of no pitch", platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0 mm"), syntax.RuleWrongValue, "0 mm"},
		{"a perforation of next to no pitch", platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 1 nm"), board.RuleTooMany, "1 nm"},
		{"a perforation of hardly any pitch", platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 1 um"), "perforation_web", "1 um"},
		{"a perforation's hole wider than its tab", platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 30 mm pitch 40 mm"), "", ""},
		{"half holes larger than the board", platedWith("castellation c on south at middle hole 90 m land 90 m by 90 m net GND"), "item_outside", ""},
		{"a limit that is not a length", shop("limit wrap_land minimum 3 GHz") + platedWith(), syntax.RuleWrongValue, "3 GHz"},
		{"a negative limit", shop("limit wrap_land minimum -1 mm") + platedWith(), syntax.RuleWrongValue, "-1 mm"},
		{"a limit that divides by nothing", shop("limit wrap_land minimum 1 mm / 0") + platedWith(), syntax.RuleWrongValue, ""},
		{"a share above all", shop("limit plated_share maximum 1000 %") + platedWith(), "", ""},
		{"an aperture of 0", shop("limit opening_share maximum 0 %") + headed("frequency 1 GHz", twoLayers), "opening_long", ""},
		{"an outline on one point", "outline rectangle 0 mm by 0 mm\n" + strings.TrimPrefix(platedWith(), exampleHead), syntax.RuleWrongValue, ""},
		{"an outline of a nanometre", "outline rectangle 1 nm by 1 nm\n", "", ""},
		{"a circle's outline of a nanometre, plated", "outline circle 1 nm\nplating w { along rim; net GND; wrap top 1 mm; wrap bottom 1 mm; extend 1 mm }\nnote \"no tab\"\n", "plating_endless", ""},
		{"no outline at all", "plating wall { along west; net GND }\n", board.RuleMissing, "west"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			found := All().Check(analyze(c.text), checks.Options{Today: today}).Findings
			for _, f := range found {
				assert.NotRegexp(t, strange, f.Message)
			}
			if c.rule == "" {
				for _, f := range found {
					assert.NotEqual(t, finding.Language, f.Category, "%s: %s", f.Rule, f.Message)
				}
				return
			}
			at := slices.IndexFunc(found, func(f finding.Located) bool {
				return f.Rule == c.rule && (c.at == "" || f.File.Slice(f.Span) == c.at)
			})
			assert.GreaterOrEqual(t, at, 0, "%s at %q: %s", c.rule, c.at, said(found))
		})
	}
}

// Ten thousand gaps on one edge are looked at in the time of a breath, and
// each is found that is too narrow.
func TestTenThousandGaps(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("board b { frequency 1 GHz; shielding 1 dB; thickness 1.6 mm }\noutline rectangle 50 m by 1 m\nplating wall { along south; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.1 mm; copper 25 um }\n")
	for i := range 10_000 {
		fmt.Fprintf(&b, "gap g%d of wall on south at %d mm width %d mm\n", i, 3+5*i, 1+i%2)
	}
	start := time.Now()
	n := 0
	for _, f := range All().Check(analyze(b.String()), checks.Options{}).Findings {
		assert.NotRegexp(t, strange, f.Message)
		if f.Rule == "gap_narrow" {
			n++
		}
	}
	assert.Equal(t, 5_000, n)
	assert.Less(t, time.Since(start), 20*time.Second, "it grows no faster than it must")
}

// Nothing that is left out of a text, and no line of it said twice, makes a
// rule say something strange.
func TestTextsWithoutALine(t *testing.T) {
	for i, s := range subjects() {
		if i%12 != 3 {
			continue
		}
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			t.Parallel()
			lines := strings.SplitAfter(s.text, "\n")
			for k := range lines {
				for _, text := range []string{
					strings.Join(slices.Concat(lines[:k], lines[k+1:]), ""),
					strings.Join(slices.Concat(lines[:k+1], lines[k:]), ""),
				} {
					for _, f := range examined(s.path, text) {
						assert.NotRegexp(t, strange, f.Message)
						assert.NotEmpty(t, f.Message)
					}
				}
			}
		})
	}
}
