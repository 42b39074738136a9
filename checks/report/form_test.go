package report

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Numbers as people read them; a count is whole.
func TestNumbersHaveThreeDigits(t *testing.T) {
	for _, c := range []struct {
		value float64
		unit  string
		want  string
	}{
		{999.6, "mm", "1000"}, {0.006385, "mΩ", "0.00639"}, {133.6, "mm²", "134"}, {1e7, "mm", "10000000"}, {12.5, "mm", "12.5"},
		{4, "mm", "4"}, {-0.10649, "mm", "-0.106"}, {0, "mm", "0"}, {math.Copysign(0, -1), "mm", "0"}, {0.0000012345, "Ω", "0.00000123"},
		{1234, "", "1234"}, {12345678, "", "12345678"}, {1.2345, "", "1.23"}, {math.Copysign(0, -1), "", "0"},
		{60, "dB", "60"}, {60.4, "dB", "over 60"}, {118.5, "dB", "over 60"},
	} {
		assert.Equal(t, c.want, number(c.value, c.unit), "%v %s", c.value, c.unit)
	}
	assert.Equal(t, "70 dB", digits(70, "dB")+" dB", "what is asked for stays a number")
}

// Against the standard library: within half a unit of the third digit, and no
// more than three digits that count.
func TestNumbersAreNear(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		v := (r.Float64()*2 - 1) * math.Pow(10, float64(r.IntN(16)-8))
		s := number(v, "mm")
		back, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err, s)
		assert.InEpsilon(t, v, back, 0.005001, s)
		significant := strings.Trim(strings.Replace(strings.TrimPrefix(s, "-"), ".", "", 1), "0")
		assert.LessOrEqual(t, len(significant), 3, s)
		assert.NotContains(t, s, "e")
	}
}

// A figure as a sentence and as a cell under a head that has its unit.
func TestFiguresAreShown(t *testing.T) {
	for _, c := range []struct {
		figure     Figure
		line, cell string
	}{
		{is("f", 12.345, "mΩ"), "f: 12.3 mΩ", "12.3"},
		{is("f", 12.345, "mΩ").bound(atMost).with("cold"), "f: at most 12.3 mΩ (cold)", "≤ 12.3"},
		{is("f", 12.345, "mΩ").bound(atLeast), "f: at least 12.3 mΩ", "≥ 12.3"},
		{is("f", 12.345, "mΩ").within(11, 14.0001), "f: 12.3 mΩ, between 11 and 14 mΩ", "12.3 (11 to 14)"},
		{is("f", 12.345, "dB").atWorst(11.94), "f: 12.3 dB, at worst 11.9 dB", "12.3, at worst 11.9"},
		{is("f", 12.345, "dB").atWorst(12.341), "f: 12.3 dB", "12.3"},
		{is("f", 118.5, "dB").atWorst(97), "f: over 60 dB (not what limits the shielding)", "over 60"},
		{is("f", 118.5, "dB").with("far field"), "f: over 60 dB (far field)", "over 60"},
		{is("holes", 1234, ""), "holes: 1234", "1234"},
		{none("f", "no copper is stated"), "f: does not apply: no copper is stated", "—"},
	} {
		assert.Equal(t, c.line, c.figure.Line())
		assert.Equal(t, c.cell, c.figure.cell(), c.line)
	}
	assert.InDelta(t, 118.5, *is("f", 118.5, "dB").Value, 0, "as it is in JSON")
}

// What is asked is held against the worst that is known: 19 of 15 leaves 4.
func TestMargins(t *testing.T) {
	f := is("f", 20, "dB").atWorst(19)
	assert.InDelta(t, 400.0/15, f.toReach(15).Margin.Spare, 1e-9)
	assert.Equal(t, "at least 15 dB asked for: 4 dB to spare", First{Figure: f.toReach(15)}.why())
	assert.Equal(t, "at least 22 dB asked for: 3 dB short", First{Figure: f.toReach(22)}.why())
	ranged := is("f", 20, "mΩ").within(18, 26)
	assert.Equal(t, "at least 15 mΩ asked for: 3 mΩ to spare", First{Figure: ranged.toReach(15)}.why())
	assert.Equal(t, "at most 25 mΩ asked for: 1 mΩ short", First{Figure: ranged.toKeep(25)}.why())
	assert.Nil(t, none("f", "why").toReach(3).Margin)
}

// Every figure that the report looks for by its name exists.
func TestWhatGivesFirst(t *testing.T) {
	r := analyze(`board b { frequency 1 GHz; thickness 1.6 mm; shielding 15 dB }
outline rectangle 120 mm by 80 mm
plating wall { along south north; net GND; copper 25 um }
plating thin { along west; net GND; copper 20 um }
plating rest { along east; net GND; copper 25 um }
gap g of wall on south at 10 mm width 3 mm
gap h of wall on south at 110 mm width 5 mm
tab t1 on south at 40 mm width 5 mm solid
tab t2 on south at 80 mm width 5 mm solid
tab t3 on north at 40 mm width 4 mm solid
tab t4 on north at 80 mm width 4 mm solid`)
	for name := range asks {
		figure(t, r.Board.Figures, name)
	}
	for _, w := range weakest {
		assert.NotNil(t, r.weakestOf(w.kind, w.figure).Figure.Value, w.figure)
	}
	var got []string
	for _, row := range r.givesFirst().rows {
		got = append(got, row[0]+" | "+row[2])
	}
	assert.Equal(t, []string{
		"board | at least 15 dB asked for: 7.53 dB to spare", // 20·log10(144.57/(2·5.4)) = 22.53, by hand
		"opening: gap h | the weakest of 2",
		"tab t3 | the weakest of 4, with 1 alike",
		"plating thin | the weakest of 3",
	}, got)
	open := analyze("board b { thickness 1.6 mm; shielding 15 dB }\noutline rectangle 120 mm by 80 mm\nplating wall { along south; net GND; copper 25 um }")
	require.Len(t, open.First, 1, "nothing is held against what could not be verified, nor does a bare edge give then")
	assert.Equal(t, "the only one", open.First[0].why())
}

// What is asked for comes with what is short first.
func TestShortComesFirst(t *testing.T) {
	r := &Report{Asked: []Asked{{Asked: "a", Verdict: "met"}, {Asked: "b", Verdict: "not verified"}, {Asked: "c", Verdict: "short"}, {Asked: "d", Verdict: "met"}}}
	var got string
	for _, row := range r.asked().rows {
		got += row[0]
	}
	assert.Equal(t, "cbad", got)
}

func items(kind string, n int, of func(i int) []Figure) (list []Item) {
	for i := range n {
		list = append(list, Item{kind, fmt.Sprintf("t%d", i+1), of(i)})
	}
	return list
}

// What all have alike is said once, what some have has a dash, reasons stand at the foot.
func TestLikeThingsAreOneTable(t *testing.T) {
	list := items("tab", 4, func(i int) []Figure {
		f := []Figure{is("width", 3, "mm").with("at its root"), is("holds", float64(100+10*(i/2)), "N·mm").with("the least"), of("mass", float64(i/2), i < 2, "g", "nobody knows")}
		if i == 3 {
			f = append(f[:1:1], is("holes", 5, ""), f[1], f[2])
		}
		return f
	})
	assert.Equal(t, []string{
		"tabs",
		"          holes  holds, N·mm  mass, g",
		"  t1, t2      —          100        0",
		"  t3          —          110     — a)",
		"  t4          5          110     — a)",
		"  holds: the least",
		"  a) nobody knows",
		"  all: width 3 mm (at its root)",
	}, tabulate(list).text())
	assert.Equal(t, "tabs t1, t2", tabulate(list[:2]).title, "wholly alike")
	assert.Equal(t, "tab t1", tabulate(list[:1]).title)
	var b strings.Builder
	tabulate(list).markdown(&b)
	assert.Equal(t, "\n## tabs\n\n| | holes | holds, N·mm | mass, g |\n|---|---:|---:|---:|\n| t1, t2 | — | 100 | 0 |\n| t3 | — | 110 | — a) |\n| t4 | 5 | 110 | — a) |\n\n- holds: the least\n- a) nobody knows\n- all: width 3 mm (at its root)\n", b.String())
}

// A table of few figures is turned, and one that is too wide: turned where its items
// are few, else in several.
func TestTablesFitAcross(t *testing.T) {
	one := items("tab", 5, func(i int) []Figure { return []Figure{is("mass", float64(i), "g")} })
	assert.Equal(t, []string{"tabs", "           t1  t2  t3  t4  t5", "  mass, g   0   1   2   3   4"}, tabulate(one).text())
	wide := func(items int) []Item {
		return itemsWith(items, 14)
	}
	turned := tabulate(wide(3)).text()
	assert.Len(t, turned, 1+1+14)
	assert.Regexp(t, `^ +t1 +t2 +t3$`, turned[1])
	split := tabulate(wide(40)).text()
	assert.Greater(t, len(split), 2*40)
	for _, s := range append(turned, split...) {
		assert.LessOrEqual(t, utf8.RuneCountInString(s), across)
	}
	// Every value is there, once.
	all := strings.Join(split, "\n")
	for i := range 40 {
		for k := range 14 {
			assert.Equal(t, 1, strings.Count(all, fmt.Sprintf(" %d%02d", i+100, k)), "%d %d", i, k)
		}
	}
}

func itemsWith(n, figures int) []Item {
	return items("tab", n, func(i int) (list []Figure) {
		for k := range figures {
			list = append(list, is(fmt.Sprintf("a figure with a long name %c", 'a'+k), float64((i+100)*100+k), ""))
		}
		return list
	})
}

// Marks do not run out.
func TestMarks(t *testing.T) {
	for i, want := range map[int]string{0: "a)", 25: "z)", 26: "aa)", 51: "az)", 52: "ba)", 701: "zz)", 702: "aaa)"} {
		assert.Equal(t, want, letter(i))
	}
}

// Figures without a note share a line by twos; those without a value have one for each reason.
func TestListsAreShort(t *testing.T) {
	p := list("board b", []Figure{is("width", 3, "mm"), is("long name", 400, "mm"), none("skin", "no frequency"), is("mass", 2, "g"), is("level", 5, "dB").with("far"), is("x", 1, "mm"), none("λ", "no frequency")})
	assert.Equal(t, []string{
		"board b",
		"  width  3 mm  long name  400 mm",
		"  mass   2 g",
		"  level  5 dB  far",
		"  x      1 mm",
		"  does not apply: skin, λ (no frequency)",
	}, p.text())
}

// A line is not broken between a number and its unit.
func TestNumbersKeepTheirUnits(t *testing.T) {
	assert.Equal(t, []string{"a wall", "carries", "2.14 A,", "no more", "(10 N·mm)"}, wrap("a wall carries 2.14 A, no more (10 N·mm)", 8))
}
