package coupon_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/coupon"
	"hemline/lang/langtest"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

const mm = 1e6

var usual = coupon.Limits{TabWidth: [2]float64{1.5 * mm, 3 * mm}, SnapWidth: [2]float64{2.5 * mm, 5 * mm}, TabGap: 0.5 * mm, TabCorner: 3 * mm, TabSpacing: 50.8 * mm, TabCount: 3, GapWidth: 2 * mm, Stretch: 2 * mm, HoleCorner: mm}

func of(t *testing.T, text string) *board.Board {
	t.Helper()
	a := lang.Analyze(source.New("b.hem", text), nil, nil)
	require.Empty(t, a.Findings(), "%s", text)
	return a.Board()
}

// strip reads the one coupon of a text back.
func strip(t *testing.T, text string, l coupon.Limits) *board.Board {
	t.Helper()
	list := coupon.Make(of(t, text), l)
	require.Len(t, list, 1)
	return of(t, list[0].Text)
}

const walled = "board b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\nplating w along south net G copper 25 um wrap top bottom 0.8 mm\n"

func TestRequired(t *testing.T) {
	assert.True(t, coupon.Required(of(t, walled+"criteria coupon required")))
	assert.False(t, coupon.Required(of(t, walled+"criteria coupon none")))
	assert.False(t, coupon.Required(of(t, walled)))
}

// Where tabs at either end would stand too far apart, more stand in gaps of the wall.
func TestTabsInTheWall(t *testing.T) {
	assert.Empty(t, strip(t, walled, usual).Gaps())
	for _, c := range []struct {
		spacing float64
		gaps    int
	}{{40.1, 0}, {39.9, 1}, {20, 1}, {19.9, 2}} {
		l := usual
		l.TabSpacing = c.spacing * mm
		b := strip(t, walled, l)
		assert.Len(t, b.Gaps(), c.gaps, "%g", c.spacing)
		for _, g := range b.Gaps() {
			assert.GreaterOrEqual(t, g.To-g.From, l.GapWidth-1)
		}
		for _, s := range b.Finished(b.Outline()).Plated {
			assert.GreaterOrEqual(t, s.Length(), l.Stretch)
		}
	}
	l := usual
	l.TabCount = 4
	assert.Len(t, strip(t, walled, l).Tabs(), 4)
}

// Platings whose walls are made alike share a coupon; those that differ in copper do not.
func TestOneForWallsAlike(t *testing.T) {
	two := walled + "plating v along north net G copper 25 um wrap top bottom 0.8 mm\nplating u along east net G copper 30 um wrap top bottom 0.8 mm\nplating idle along west from 10 mm to 20 mm net G copper 40 um\ngap g of idle on west from 0 mm to 40 mm"
	list := coupon.Make(of(t, two), usual)
	require.Len(t, list, 2)
	assert.Equal(t, []string{"w", "v"}, list[0].Of)
	assert.Equal(t, []string{"u"}, list[1].Of)
	assert.Equal(t, 30e3, of(t, list[1].Text).Platings()[0].Copper.Value)
}

// The strip has what the board has, exactly, whatever its names are and whatever
// units it was written in.
func TestNamesAndUnitsCarry(t *testing.T) {
	b := strip(t, `board "a \"b\"" { title "T"; revision "A:1"; class 3; material "x" }
stack { copper "L 1" 1.4 mil base 17.5 um; dielectric along 9.7 mil permittivity 4.31 loss 0.0172 material "a \"b\""; copper "+" 35 um }
outline rectangle 60 mm by 40 mm
plating relief along south net "+3V3" copper 1 mil least 0.8 mil wrap top 33.3 mil wrap bottom 0.8 mm layers "L 1" extend 1/3 * 1 mm finish ENIG thickness 4 um, 0.05 um
plane on "L 1" net "+3V3" pullback 20 mil
plane on "+" net mask pullback 1 mm
castellation tab_west on north at 30 mm hole 0.8 mm land 1.2 mm by 1 mm net a layers "L 1" "+" burrs either finish OSP
relief tab_east over relief tab_west on top margin 0.1 mm
tab t on west at 10 mm width 3 mm perforated hole 0.5 mm pitch 0.8 mm inset 0.1 mm length 2 mm removal hand by customer within 0.2 mm
tolerance { thickness 10 %; gaps 8 mil; half_holes 0.1 mm }
criteria { voids maximum 60 mil; adhesion "tape, \"3\" times"; continuity maximum 40 mohm; coupon required; bow maximum 0.75 %; electrical_test all }
fabricator "a shop" { offers half_holes edge_plating; finishes ENIG OSP; version "2"; checked "2026-01-02"; until "2999-12-31"; limit tab_snap_moment maximum 1 Nm because "a \"b\""; limit tab_count minimum 3; limit plated_share maximum 92 % source "here" }
`, usual)
	p := b.Platings()[0]
	assert.Equal(t, []any{25.4e3, 20.32e3, 33.3 * 25.4e3, 0.8 * mm, "+3V3", "ENIG"}, []any{p.Copper.Value, p.Least.Value, p.Wrap[0].Value, p.Wrap[1].Value, p.Net.Text, p.Finish.Text})
	assert.InDelta(t, mm/3, p.Extend.Value, 1e-3)
	assert.Equal(t, []string{"L 1"}, b.Joined(p))
	assert.Equal(t, "a \"b\"", b.Stack().Layers[1].Material.Text)
	assert.Equal(t, []float64{35.56e3, 17.5e3}, []float64{b.Stack().Layers[0].Thickness.Value, b.Stack().Layers[0].Base.Value})
	tab := b.Tabs()[0]
	assert.Equal(t, []any{true, 0.5 * mm, 0.8 * mm, 0.1 * mm, 2 * mm, "hand", "customer", 0.2 * mm}, []any{tab.Perforated, tab.Hole.Value, tab.Pitch.Value, tab.Inset.Value, tab.Length.Value, tab.Removal.How.Text, tab.Removal.By.Text, tab.Removal.Within.Value})
	assert.Equal(t, []any{0.1, 203.2e3}, []any{b.ToleranceOf("thickness").Value, b.ToleranceOf("gaps").Value})
	assert.Equal(t, `tape, "3" times`, b.CriterionOf("adhesion").Text)
	assert.False(t, b.CriterionOf("coupon").Given(), "it is the coupon")
	assert.False(t, b.CriterionOf("continuity").Given(), "that is of the board's stretches")
	assert.True(t, b.CriterionOf("electrical_test").Is("all"))
	shop := b.Fabricator()
	assert.Equal(t, []any{"a shop", 2, "2", 3}, []any{shop.Name.Text, len(shop.Offers), shop.Version.Text, len(shop.Limits)})
	assert.Equal(t, 0.92, shop.Limits[2].Maximum.Value)
	assert.Equal(t, []string{"relief", "tab_west"}, []string{b.Reliefs()[0].Over[0].Text, b.Reliefs()[0].Over[1].Text})
	c := b.Castellations()[0]
	assert.Equal(t, []any{0.8 * mm, "either", "OSP", "a"}, []any{c.Hole.Value, c.Burrs.Text, c.Finish.Text, c.NetOf(0).Text})
}

// The layers that the wall joins are stated, by whatever the board joins them, and
// no plane is there to carry a current past the wall; that its strips join nothing
// is agreed. Walls that join different layers are not alike.
func TestTheWallIsTiedToNothing(t *testing.T) {
	const four = "stack { copper top 35 um; dielectric a 0.3 mm; copper gnd 35 um; dielectric c 0.8 mm; copper bottom 35 um }\noutline rectangle 60 mm by 40 mm\n"
	const w = "plating w along south net G copper 25 um wrap top bottom 0.8 mm"
	for text, want := range map[string][]string{
		four + w + "\nplane on gnd net G pullback 0.5 mm\nplane on top net G pullback 0.5 mm": {"top", "gnd"},
		four + w + " layers all":                          {"top", "gnd", "bottom"},
		four + w + " layers gnd":                          {"gnd"},
		four + w + "\nplane on gnd net F pullback 0.5 mm": nil,
	} {
		x := strip(t, text, usual)
		assert.Empty(t, x.Planes(), text)
		assert.Equal(t, want, x.Joined(x.Platings()[0]), text)
		assert.Len(t, x.Acceptances(), min(len(want), 1), text)
	}
	two := four + w + "\nplating v along north net G copper 25 um wrap top bottom 0.8 mm\nplane on gnd net G pullback 0.5 mm within (0 mm, 0 mm) to (60 mm, 20 mm)"
	assert.Len(t, coupon.Make(of(t, two), usual), 2)
}

// The text is in canonical form, so that a change shows as what it is.
func TestTheTextIsCanonical(t *testing.T) {
	for _, s := range langtest.Examples(t, "../../..") {
		for _, c := range coupon.Make(s.Analyze().Board(), usual) {
			assert.Equal(t, c.Text, syntax.Format(syntax.Parse(source.New("c.hem", c.Text), nil)))
		}
	}
}

// Whatever a text says, its coupons are written, and each can be read.
func TestNoTextStopsACoupon(t *testing.T) {
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		for _, c := range coupon.Make(a.Board(), usual) {
			assert.NotEmpty(t, c.Text, path)
			if len(a.Findings()) == 0 {
				assert.Empty(t, lang.Analyze(source.New("c.hem", c.Text), nil, nil).Findings(), "%s\n%s", path, c.Text)
			}
		}
	})
}
