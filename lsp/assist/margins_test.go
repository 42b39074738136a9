package assist

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

const held = `fabricator shop { limit wrap_land minimum 0.4 mm; limit tab_width_solid minimum 2 mm }
board b { thickness 1.6 mm; class 3; frequency 1 GHz }
outline rectangle 60 mm by 40 mm corner 2 mm
plating wall { along west; net GND; copper 30 um; wrap top 0.8 mm; wrap bottom 0.3 mm; extend 0.5 mm }
gap g of wall on west at 20 mm width 5 mm
tab t on south at 15 mm width 2.5 mm solid
feature f on top rectangle 1 mm by 1 mm at (1.6 mm, 10 mm) net V5
`

// A value that a limit holds tells of it: the limit, who asks, what is left, the worst case.
func TestHoverTellsWhatIsLeft(t *testing.T) {
	for at, want := range map[string]string{
		"wrap top ‸0.8 mm":    "- wrap on top is 0.80 mm; shop asks for at least 0.40 mm (limit wrap_land, a.hem:1): **0.40 mm to spare**; at worst, with the outline's tolerance of 0.10 mm, which is common practice, it is 0.70 mm: 0.30 mm to spare\n",
		"wrap bottom ‸0.3 mm": "- wrap on bottom is 0.30 mm; shop asks for at least 0.40 mm (limit wrap_land, a.hem:1): **0.10 mm short**; at worst",
		"copper ‸30 um":       "- copper on the wall of plating wall is 30 um; class 3 asks for at least 25 um (IPC-6012, on average; limit wall_copper): **5 um to spare**",
		"width ‸2.5 mm":       "- width of tab t is 2.50 mm; common practice allows at most 3.00 mm (limit tab_width_solid): **0.50 mm to spare**\n- width of tab t is 2.50 mm; shop asks for at least 2.00 mm",
		"at ‸15 mm":           "- distance from tab t to the end of edge south is 13.75 mm; common practice asks for at least 3.00 mm",
		// λ/20 in er 4.3 at 1 GHz is 7.2286 mm, by hand; 5 mm and twice 0.2 mm are held to it.
		"width ‸5 mm": "common practice allows at most 5 %, 7.229 mm (limit opening_share): 2.22 mm to spare; at worst, with the gaps' tolerance of 0.20 mm at each end",
		// 1.6 - 0.5 - 0.8 mm is the way from the feature's side to the wrap, by hand.
		"at (‸1.6 mm": "- distance from feature f (net V5) on top to the wrap of plating wall (net GND) on top at (1.10 mm, 9.50 mm) is 0.30 mm; common practice asks for at least 0.254 mm (limit wrap_clearance): **0.046 mm to spare**",
	} {
		plain := strings.Replace(at, "‸", "", 1)
		require.Equal(t, 1, strings.Count(held, plain), plain)
		a, offset := analyze(t, strings.Replace(held, plain, at, 1))
		card, ok := Hover(a, offset, new(Shown), checks.Options{})
		require.True(t, ok, at)
		assert.Contains(t, card.Markdown, want, at)
	}
}

// What a text is held to by the one who asks counts before what it states, as in its check.
func TestHoverIsHeldToTheLimitsGiven(t *testing.T) {
	text := strings.Replace(held, "wrap top 0.8", "wrap top ‸0.8", 1)
	_, rest, _ := strings.Cut(text, "\n")
	a, offset := analyze(t, rest)
	shop, _ := analyze(t, "fabricator other { limit wrap_land minimum 1 mm }")
	card, _ := Hover(a, offset, new(Shown), checks.Options{Limits: checks.LimitsFor(shop)})
	assert.Contains(t, card.Markdown, "wrap on top is 0.80 mm; other asks for at least 1.00 mm")
}

// Hints tell the tightest of a value's margins, and none is there without being asked for.
func TestHintsTellWhatIsLeft(t *testing.T) {
	a, _ := analyze(t, held)
	all := source.Span{End: a.Root().Len()}
	assert.Empty(t, Hints(a, all, HintOptions{Unit: quantity.Millimetre}))
	list := Hints(a, all, HintOptions{Unit: quantity.Millimetre, Margins: rules.All().Margins(a, checks.Options{})})
	got := a.Root().Text()
	for _, h := range slices.Backward(list) {
		got = got[:h.Offset] + "[" + h.Text + "]" + got[h.Offset:]
	}
	for _, want := range []string{"wrap top 0.8 mm[0.40 mm to spare]; wrap bottom 0.3 mm[0.10 mm short]; extend 0.5 mm[0.45 mm to spare]", "width 2.5 mm[0.50 mm to spare] solid", "copper 30 um[5 um to spare]"} {
		assert.Contains(t, got, want)
	}
	at := strings.Index(a.Root().Text(), "tab t")
	for _, h := range Hints(a, source.Span{Start: at, End: at + 45}, HintOptions{Unit: quantity.Millimetre, Margins: rules.All().Margins(a, checks.Options{})}) {
		assert.GreaterOrEqual(t, h.Offset, at)
	}
}

// An offer's word tells what it is, what needs it and whether the shop has it; a face's, what
// is on it.
func TestHoverOverOffersAndFaces(t *testing.T) {
	for _, c := range []struct{ at, want string }{
		{"offers ‸edge_plating half_holes", "**edge_plating**: the shop makes edges of the outline that are plated, with their wraps\n\n- plating wall needs it\n"},
		{"offers edge_plating half‸_holes", "\nNothing on this board needs it.\n"},
		{"wrap to‸p 0.8", "The top face; its copper layer is top.\n\n- plating wall turns over it by 0.80 mm\n- 1 feature\n"},
	} {
		plain := strings.Replace(c.at, "‸", "", 1)
		text := strings.Replace(held, "shop { ", "shop { offers edge_plating half_holes; ", 1)
		require.Equal(t, 1, strings.Count(text, plain), plain)
		a, offset := analyze(t, strings.Replace(text, plain, c.at, 1))
		card, _ := Hover(a, offset, new(Shown), checks.Options{})
		assert.Contains(t, card.Markdown, c.want, c.at)
	}
}

// What is counted is named, and a unit is not told beside itself in another spelling.
func TestHoverNamesWhatIsLeft(t *testing.T) {
	text := "fabricator shop { limit tab_count minimum 3 }\noutline rectangle 60 mm by 40 mm\nplating wall { along west; net GND; copper 30 um }\n" +
		"tab t on south at 10 mm, 30 mm, 50 mm width 3 mm solid\ntab v on north at 30 mm width 3 mm solid"
	says := ""
	a, offset := analyze(t, strings.Replace(text, "30 um", "‸30 um", 1))
	for _, m := range Margins(a, new(Shown), checks.Options{}) {
		if m.Rule.Name == "tab_count" {
			says = m.Sentence()
		}
	}
	assert.Contains(t, says, "number of tabs is 4; shop asks for at least 3 (limit tab_count, a.hem:1): **1 tab to spare**")
	card, _ := Hover(a, offset, new(Shown), checks.Options{})
	assert.NotContains(t, card.Markdown, "µm")
}
