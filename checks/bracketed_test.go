package checks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"hemline/lang"
	"hemline/lang/source"
)

// What is remembered is what would be found by asking, and little is asked.
func TestBracketedIsWhatFires(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minimum := rapid.Bool().Draw(t, "minimum")
		usual := rapid.SampledFrom([]float64{0, 1e-3, 1, 3e5, 5e7}).Draw(t, "usual")
		turns := math.Exp(rapid.Float64Range(-20, 40).Draw(t, "turns"))
		lax, strict := 0.0, 1e18
		if !minimum {
			lax, strict = strict, lax
		}
		plain := func(v float64) bool { return v > turns == minimum }
		asked := 0
		fires := bracketed(func(v float64) bool { asked++; return plain(v) }, usual, lax, strict)
		for _, v := range rapid.SliceOfN(rapid.Float64Range(0, 1e18), 5, 5).Draw(t, "values") {
			if v != turns {
				assert.Equal(t, plain(v), fires(v))
			}
		}
		for _, v := range []float64{turns / 2, turns * 2, turns / 2, turns * 2} {
			assert.Equal(t, plain(v), fires(v))
		}
		assert.Equal(t, !minimum, fires(0))
		assert.Equal(t, minimum, fires(1e18))
		before := asked
		fires(turns / 2)
		fires(turns * 2)
		assert.Equal(t, before, asked, "asked once")
	})
}

// A rule that is asked whether it finds anything stops at its first finding,
// and one that fails is not taken for one that finds.
func TestFindsStopsAtTheFirst(t *testing.T) {
	reported := 0
	many := &Rule{Name: "many", Run: func(p *Pass) {
		for range 10 {
			reported++
			p.Report(source.Place{}, nil, "one more")
		}
	}}
	p := Catalogue{many}.pass(lang.Analyze(source.New("a.hem", ""), nil, nil), Options{})
	assert.True(t, p.finds(many))
	assert.Equal(t, 1, reported)
	assert.False(t, p.finds(&Rule{Name: "none", Run: func(*Pass) {}}), "what an earlier one found is no matter")
	assert.PanicsWithValue(t, "a fault", func() { p.finds(&Rule{Name: "faulty", Run: func(*Pass) { panic("a fault") }}) })
	p.rule, p.found = many, nil
	many.Run(p)
	assert.Len(t, p.found, 10, "asked no longer")
}
