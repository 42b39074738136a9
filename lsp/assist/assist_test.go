package assist

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

func TestSignature(t *testing.T) {
	for marked, want := range map[string]string{
		"tab ‸\n":                                    "tab <NAME> on EDGE at P… width W [solid] [perforated hole D pitch P [inset I]] [premetallised] [length L] [opens [PLATING…] [margin E] [span W]] [removal WORD [by WHO] [within E]] [like NAME] [no CLAUSE]",
		"tab t1 ‸\n":                                 "tab NAME <on EDGE> at P… width W [solid] [perforated hole D pitch P [inset I]] [premetallised] [length L] [opens [PLATING…] [margin E] [span W]] [removal WORD [by WHO] [within E]] [like NAME] [no CLAUSE]",
		"tab t1 on ‸":                                "tab NAME <on EDGE> at P… width W [solid] [perforated hole D pitch P [inset I]] [premetallised] [length L] [opens [PLATING…] [margin E] [span W]] [removal WORD [by WHO] [within E]] [like NAME] [no CLAUSE]",
		"tab t1 on south at 3 m‸":                    "tab NAME on EDGE <at P…> width W [solid] [perforated hole D pitch P [inset I]] [premetallised] [length L] [opens [PLATING…] [margin E] [span W]] [removal WORD [by WHO] [within E]] [like NAME] [no CLAUSE]",
		"tab t1 on south at 3 mm ‸width 3 mm":        "tab NAME on EDGE at P… width W [solid] [perforated hole D pitch P [inset I]] [premetallised] [length L] [opens [PLATING…] [margin E] [span W]] [removal WORD [by WHO] [within E]] [like NAME] [no CLAUSE]",
		"tab t1 on south at 3 mm perforated hole ‸":  "tab NAME on EDGE at P… width W [solid] [<perforated hole D pitch P [inset I]>] [premetallised] [length L] [opens [PLATING…] [margin E] [span W]] [removal WORD [by WHO] [within E]] [like NAME] [no CLAUSE]",
		"let x ‸":                                    "let NAME <= EXPRESSION>",
		"let x = ‸":                                  "let NAME <= EXPRESSION>",
		"board b {\n  frequency ‸\n}":                "board NAME [title TEXT] [revision TEXT] [<frequency F [to F]>] [shielding LEVEL] [class CLASS] [thickness T] [current I] [rise DT] [voltage V] [hazard WORD] [number TEXT] [owner TEXT] [author TEXT] [approver TEXT] [date DATE] [status TEXT] [material TEXT] [finish WORD] [mask WORD] [legend WORD] [impedance TEXT]",
		"board b {\n  thickness 1 mm // note ‸\n}\n": "",
		"‸\n":                        "",
		"plating w { along all }\n‸": "",
	} {
		a, at := analyze(t, marked)
		s, ok := SignatureAt(a, at)
		got := s.Label
		if ok && s.Active >= 0 {
			p := s.Parameters[s.Active]
			got = got[:p.Span.Start] + "<" + got[p.Span.Start:p.Span.End] + ">" + got[p.Span.End:]
			assert.NotEmpty(t, p.Doc)
		}
		assert.Equal(t, want, got, marked)
	}
}

func TestFolds(t *testing.T) {
	a, _ := analyze(t, `// one
// two
use "shop.hem"
use "other.hem"

board b {
  thickness 1.6 mm
}
fabricator f {
  limit neck minimum 1 mm {
    because "x" }
}
// alone
let x = (1 +
  2)
  // behind
  // the end`)
	var got []string
	for _, f := range Folds(a) {
		got = append(got, strings.TrimSpace(fmt.Sprintf("%d-%d %s", f.First+1, f.Last+1, f.Kind)))
	}
	assert.Equal(t, []string{"1-2 comment", "16-17 comment", "6-7", "10-11", "9-11", "3-4 uses"}, got)
}

func TestSelections(t *testing.T) {
	for marked, want := range map[string][]string{
		"tab t on south at (2 m‸m + 3 mm) * 2 width 3 mm\n": {"mm", "2 mm", "2 mm + 3 mm", "(2 mm + 3 mm)", "(2 mm + 3 mm) * 2", "at (2 mm + 3 mm) * 2", "tab t on south at (2 mm + 3 mm) * 2 width 3 mm"},
		"board b {\n  class‸ 2\n}\n":                        {"class", "class 2", "board b {\n  class 2\n}"},
		"tab t on south perforated hole 1‸ mm\n":            {"1", "1 mm", "hole 1 mm", "perforated hole 1 mm", "tab t on south perforated hole 1 mm"},
		"let x =‸\n":       {"=", "let x ="},
		"// words‸ here\n": {"// words here"},
		"‸":                nil,
	} {
		a, at := analyze(t, marked)
		var got []string
		list := Selections(a, at)
		for i, s := range list[:len(list)-1] {
			got = append(got, a.Root().Slice(s))
			assert.True(t, s.Start >= list[i+1].Start && s.End <= list[i+1].End && s != list[i+1], marked)
		}
		assert.Equal(t, source.Span{End: a.Root().Len()}, list[len(list)-1])
		if want != nil {
			assert.Equal(t, want, got, marked)
		}
	}
}

// Every byte of the text that is no blank space and no bracket belongs to one
// token, in order.
func TestTokens(t *testing.T) {
	a, _ := analyze(t, drawn+"// a comment\n  // one more\nlet d = max(1, 2) ; let e = 1 // behind\naccept x on \"a b\" because \"z\"\n")
	end := int32(0)
	text := a.Root().Text()
	var line []string
	a.Document().EachToken(func(c syntax.Classified) {
		assert.GreaterOrEqual(t, c.Start, end)
		assert.Empty(t, strings.Trim(text[end:c.Start], " \n{}(),;"), "left out")
		end = c.End
		if c.End > int32(strings.Index(text, "gap g1")) && c.Start < int32(strings.Index(text, "gap g2")) || c.Class == syntax.ClassComment {
			line = append(line, fmt.Sprintf("%s:%d", text[c.Start:c.End], c.Class))
		}
	})
	assert.Empty(t, strings.Trim(text[end:], " \n{}(),;"))
	assert.Equal(t, []string{"gap:1", "g1:3", "of:2", "wall:3", "on:2", "foot:5", "at:2", "foot.length:4", "/:13", "2:10", "width:2", "a:4",
		"// a comment:0", "// one more:0", "// behind:0"}, line)
}

func TestHints(t *testing.T) {
	mm, _ := quantity.UnitNamed("mm")
	mil, _ := quantity.UnitNamed("mil")
	all := HintOptions{Coordinates: true, Values: true, Units: true, Unit: mm}
	inMils := all
	inMils.Unit = mil
	for _, c := range []struct {
		text    string
		options HintOptions
		want    string
	}{
		{text, all, `let long = 60 mm
wrap top 15 mil[= 0.381 mm]
gap launch of wall on west at middle[(0.00 mm, 20.00 mm)] width 5 mm for antenna
connector antenna on west at middle[(0.00 mm, 20.00 mm)] { body 9.5 mm; pin top width 1.3 mm length 4 mm }
tab t1 on north at long - 20 mm[(40.00 mm, 40.00 mm)] width 4 mm perforated hole 0.5 mm pitch 0.8 mm
castellation row on east from 20 mm[(60.00 mm, 20.00 mm)] to 30 mm[(60.00 mm, 30.00 mm)] pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm`},
		// Several at once, each of which opens a gap: a point behind each position, once.
		{"outline rectangle 60 mm by 40 mm\nplating w { along all; net GND }\ntypical scar tab { width 3 mm; solid; opens margin 0.5 mm }\ntab n like scar on north at 15 mm, 45 mm // two\n", HintOptions{Coordinates: true, Values: true, Unit: mm},
			"tab n like scar on north at 15 mm[(15.00 mm, 40.00 mm)], 45 mm[(45.00 mm, 40.00 mm)] // two"},
		{"let a = 2 mm\nlet b = a * 2\nlet c = a + 1 GHz\n", all, "let a = 2 mm\nlet b = a * 2[= 4.00 mm]\nlet c = a + 1 GHz"},
		{"let a = 2.54 mm\nlet b = a * 2\n", inMils, "let a = 2.54 mm[= 100 mil]\nlet b = a * 2[= 200 mil]"},
		{"let a = 15 mil\nlet b = a * 2\n", HintOptions{Unit: mm}, "let a = 15 mil\nlet b = a * 2"},
	} {
		a, _ := analyze(t, c.text)
		got := a.Root().Text()
		list := Hints(a, source.Span{End: len(got)}, c.options)
		for _, h := range slices.Backward(list) {
			got = got[:h.Offset] + "[" + h.Text + "]" + got[h.Offset:]
		}
		for line := range strings.Lines(c.want) {
			assert.Contains(t, got, strings.TrimSpace(line))
		}
		if !c.options.Values {
			assert.Empty(t, list)
		}
	}
	a, _ := analyze(t, text)
	at := strings.Index(text, "tab t1")
	list := Hints(a, source.Span{Start: at, End: at + 10}, all)
	assert.Empty(t, list, "behind the span")
	assert.Len(t, Hints(a, source.Span{Start: at, End: at + 40}, all), 1)
}

func TestLenses(t *testing.T) {
	a, _ := analyze(t, text)
	var got []string
	for _, l := range Lenses(a, rules.All().Check(a, checks.Options{})) {
		got = append(got, a.Root().Slice(l.Span)+": "+l.Text+" / "+l.Does)
	}
	assert.Equal(t, []string{
		`use "shop.hem": shop: 1 unbuildable, 3 risky / findings`,
		"board: 34 open queries: outline_tolerance, thickness_tolerance, material, layers, … / queries",
		"outline: picture / picture",
		"plating wall: plated 90.1 mm, 45.9 % of the outline; 1 opening, the longest 5.00 mm, at worst 5.40 mm / picture",
	}, got)
	a, _ = analyze(t, "outline rectangle 60 mm by 40 mm\ncutout earth rectangle 20 mm by 10 mm at (30 mm, 20 mm)\n"+
		"plating wall { along south; net GND }\nplating strap { along earth.south earth.north; net GND }")
	list := Lenses(a, rules.All().Check(a, checks.Options{}))
	assert.Contains(t, list[len(list)-1].Text, "plated 40.0 mm, 66.7 % of cutout earth; ", "of the outline it covers nothing")
	a, _ = analyze(t, "board b { class 3 }\noutline rectangle 60 mm by 40 mm\n")
	assert.Equal(t, Lens{source.Span{End: 5}, "no findings", DoesFindings}, Lenses(a, checks.Outcome{})[0], "of a board that names no shop, over it")
	a, _ = analyze(t, "use \"shop.hem\"\nfabricator mine { limit neck minimum 1 mm }\n")
	assert.Equal(t, "shop: not in use, a later fabricator holds", Lenses(a, checks.Outcome{})[0].Text)
	a, _ = analyze(t, "use \"none.hem\"\nuse \n")
	assert.Equal(t, []Lens{{source.Span{End: 3}, "who uses this file", DoesUsers}}, Lenses(a, checks.Outcome{}))
	a, _ = analyze(t, "// nothing yet\n")
	assert.Empty(t, Lenses(a, checks.Outcome{}))
}

func TestLinksAndLinked(t *testing.T) {
	a, _ := analyze(t, text)
	links := Links(a)
	require.Len(t, links, 1)
	assert.Equal(t, "shop.hem shop.hem", a.Root().Slice(links[0].Span)+" "+links[0].Path)

	for piece, want := range map[string]int{"let |long =": 3, "gap |launch": 1, "of |wall on west": 3, "net |GND": 0, "max(10 mm, |deep)": 0, "along west |south": 0} {
		a, at := analyze(t, mark(t, piece))
		assert.Len(t, Linked(a, at), want, piece)
	}
}

// apply makes an action's edits and reads the text again.
func apply(t *testing.T, a *lang.Analysis, x Action) *lang.Analysis {
	t.Helper()
	f := a.Root()
	edits := slices.Clone(x.Edits)
	slices.SortFunc(edits, func(p, q source.Edit) int { return q.Span.Start - p.Span.Start })
	for _, e := range edits {
		f = f.Edit(e.Span, e.Text)
	}
	after, _ := analyze(t, f.Text())
	return after
}

// Where a connector has the tab's name, the gap would be for the connector.
func TestAGapForATabOfAConnectorsName(t *testing.T) {
	a, at := analyze(t, "outline rectangle 60 mm by 40 mm\nplating wall { along south; net GND }\nconnector both on north at 5 mm { body 4 mm }\ntab both on ‸south at 15 mm width 2 mm solid\n")
	list := Actions(a, source.Span{Start: at, End: at}, nil)
	require.NotEmpty(t, list)
	assert.Equal(t, "\ngap both_gap of wall on south at 15 mm width 3 mm", list[0].Edits[0].Text)
}

// Where a tab or a connector opens a gap of its own, too narrow as it may be, no
// second one is offered.
func TestNoGapForWhatOpensItsOwn(t *testing.T) {
	for _, statement := range []string{
		"tab t on ‸south at 15 mm width 3 mm solid",
		"connector c on ‸south at 15 mm { body 9 mm; pin top width 1 mm length 2 mm }",
	} {
		for opens, want := range map[string]int{"": 1, " opens span 0.2 mm": 0} {
			text := strings.TrimSuffix(statement, " }")
			if text != statement {
				opens = strings.Replace(opens, " opens", "; opens", 1) + " }"
			}
			a, at := analyze(t, "outline rectangle 60 mm by 40 mm\nplating wall { along south; net GND }\n"+text+opens+"\n")
			offered := 0
			for _, x := range Actions(a, source.Span{Start: at, End: at}, nil) {
				if strings.HasPrefix(x.Title, "make a gap") {
					offered++
				}
			}
			assert.Equal(t, want, offered, text+opens)
		}
	}
}

// A gap that is there already, for the item or for nothing else, is moved to it; and where one
// is for something else there, none is offered.
func TestAGapThatIsThereIsMoved(t *testing.T) {
	for _, c := range []struct{ gap, want string }{
		{"gap g of wall on south at 40 mm width 8 mm for t", "gap g of wall on south at 15 mm width 8 mm for t"},
		{"gap g of wall on south from 40 mm to 42 mm for t", "gap g of wall on south at 15 mm width 3 mm for t"},
		{"gap g of wall on north at 40 mm width 2 mm for t", "gap g of wall on south at 15 mm width 3 mm for t"},
		{"gap g of wall on south at 16 mm width 2 mm", "gap g of wall on south at 15 mm width 3 mm"},
		{"gap g of wall on south at 16 mm width 2 mm for u", ""},
		{"gap g of wall on south at 40 mm width 2 mm", "gap t_gap of wall on south at 15 mm width 3 mm for t"},
	} {
		a, at := analyze(t, "outline rectangle 60 mm by 40 mm\nplating wall { along south north; net GND }\ntab t on ‸south at 15 mm width 2 mm solid\ntab u on south at 55 mm width 2 mm solid\n"+c.gap+"\n")
		list := Actions(a, source.Span{Start: at, End: at}, nil)
		i := slices.IndexFunc(list, func(x Action) bool { return strings.Contains(x.Title, "gap") })
		if c.want == "" {
			assert.Negative(t, i, c.gap)
			continue
		}
		require.GreaterOrEqual(t, i, 0, c.gap)
		after := apply(t, a, list[i])
		assert.Contains(t, after.Root().Text(), c.want)
		assert.Empty(t, after.Findings(), c.gap)
	}
}

func TestActions(t *testing.T) {
	base := `outline rectangle 60 mm by 40 mm
plating wall { along west south; net GND }
connector antenna on west at middle { body 9.5 mm; pin top width 1.3 mm length 4 mm }
tab t1 on south at 30 mm width 4 mm solid
tab t2 on north at 30 mm width 4 mm solid
let a = 2 mm + 3 mm; let b = 15 mil
`
	for _, c := range []struct{ at, title, want string }{
		{"connector |antenna", "make a gap for this connector", "pin top width 1.3 mm length 4 mm }\ngap antenna_gap of wall on west at middle width 2 mm for antenna\ntab t1"},
		{"tab t1 on |south", "make a gap for this tab", "solid\ngap t1_gap of wall on south at 30 mm width 5 mm for t1\ntab t2"},
		{"tab t2 on |north", "make a gap for this tab", ""},
		{"t2 on north at 30| mm", "extract to let tab_at", "let tab_at = 30 mm\ntab t2 on north at tab_at width"},
		{"3 mm; let b = |15 mil", "write as 0.381 mm", "let b = 0.381 mm\n"},
		{"3 mm; let b = |15 mil", "extract to let let_value", ""}, // it has a name already
		{"t1 on south at 30| mm", "write as 1181.102362 mil", ""}, // not the same
		{"+ |3 mm; let", "extract to let let_value", "let let_value = 3 mm\nlet a = 2 mm + let_value; let b"},
		{"|2 mm + 3 mm; let", "write as 2 mm", ""},
	} {
		a, at := analyze(t, strings.Replace(base, strings.Replace(c.at, "|", "", 1), strings.Replace(c.at, "|", "‸", 1), 1))
		require.GreaterOrEqual(t, at, 0, c.at)
		list := Actions(a, source.Span{Start: at, End: at}, nil)
		i := slices.IndexFunc(list, func(x Action) bool { return x.Title == c.title })
		if c.want == "" {
			assert.Negative(t, i, "%s: %s", c.at, c.title)
			continue
		}
		if !assert.GreaterOrEqual(t, i, 0, "%s: %s in %v", c.at, c.title, list) {
			continue
		}
		after := apply(t, a, list[i])
		assert.Contains(t, after.Root().Text(), c.want, c.at)
		assert.LessOrEqual(t, len(after.Findings()), len(a.Findings()), c.at)
		for _, rule := range list[i].Rules {
			has := func(a *lang.Analysis) bool {
				for _, f := range rules.All().Check(a, checks.Options{}).Findings {
					if f.Rule == rule && strings.Contains(f.Message, strings.Fields(c.at)[0]) || f.Rule == rule && strings.Contains(f.Message, "antenna") {
						return true
					}
				}
				return false
			}
			assert.True(t, rule != "launch_blocked" || has(a), "%s is what it is for", rule)
			assert.False(t, has(after), rule)
		}
	}
	a, at := analyze(t, strings.Replace(base, "2 mm + 3 mm;", "‸2 mm + 3 mm;", 1))
	list := Actions(a, source.Span{Start: at, End: at + len("2 mm + 3 mm")}, nil)
	assert.False(t, slices.ContainsFunc(list, func(x Action) bool { return strings.HasPrefix(x.Title, "extract") }), "it has a name already")
	a, at = analyze(t, strings.Replace(base, "width 4 mm solid\ntab t2", "width ‸2 * 2 mm solid\ntab t2", 1))
	list = Actions(a, source.Span{Start: at, End: at + len("2 * 2 mm")}, nil)
	require.NotEmpty(t, list)
	assert.Contains(t, apply(t, a, list[len(list)-1]).Root().Text(), "let tab_width = 2 * 2 mm\ntab t1 on south at 30 mm width tab_width solid")
}
