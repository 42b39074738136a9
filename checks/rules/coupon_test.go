package rules

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/build"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/coupon"
	"hemline/lang/langtest"
)

// ordered visits the examples, the broken ones too, and the generator's boards.
func ordered(t *testing.T, visit func(name string, a *lang.Analysis)) {
	for _, s := range langtest.Examples(t, "../..") {
		visit(s.Name(), s.Analyze())
	}
	for seed := range uint64(boardsMade) {
		visit(fmt.Sprint("board ", seed), readText("made.hem", cleanBoard(seed)))
	}
}

// A coupon of every clean board's walls is a board that nothing is wrong with in
// the same shop, and has the same wall: copper, wraps, layers and finish. Nothing
// is agreed of it but that its strips join nothing else.
func TestCouponsAreClean(t *testing.T) {
	unraced(t)
	n, rows := 0, 0
	ordered(t, func(name string, a *lang.Analysis) {
		b := a.Board()
		if len(All().Check(a, checks.Options{Today: "2026-01-01"}).Findings) > 0 {
			return // what is wrong with a wall is so with its coupon's
		}
		of := 0
		for _, c := range coupon.Make(b, checks.LimitsFor(a).ForCoupon(b)) {
			n, of = n+1, of+len(c.Of)
			x := readText("coupon.hem", c.Text)
			out := All().Check(x, checks.Options{Today: "2026-01-01"})
			for _, f := range out.Findings {
				if slices.ContainsFunc(b.Acceptances(), func(x *board.Acceptance) bool { return x.Name.Text == f.Rule }) {
					continue // what is agreed of the board is not of the coupon, and the package says so
				}
				assert.Fail(t, "a coupon is clean", "%s, %s: %s: %s\n%s", name, c.Name, f.Rule, f.Message, c.Text)
			}
			for _, f := range out.Accepted {
				assert.Equal(t, "plane_untied", f.Rule, name)
			}
			sameWall(t, name, b, x.Board(), c)
			tiedToNothing(t, name, x.Board())
			rows += len(x.Board().Castellations())
		}
		plated := 0
		for _, p := range b.Platings() {
			if b.Runs(p) {
				plated++
			}
		}
		assert.Equal(t, plated, of, "%s: each plating has its coupon", name)
	})
	assert.Greater(t, n, 70)
	assert.Greater(t, rows, 10)
}

// sameWall holds a coupon's wall to that of the board, both as the model has them.
func sameWall(t *testing.T, name string, b, x *board.Board, c coupon.Coupon) {
	t.Helper()
	require.Len(t, x.Platings(), 1, name)
	wall := x.Platings()[0]
	box := x.Outline().Path.Box()
	assert.GreaterOrEqual(t, box.Max.X-box.Min.X, 25e6, "%s: at least 25 mm long", name)
	assert.GreaterOrEqual(t, len(x.Finished(x.Outline()).Bare), 1, "%s: an end of a stretch", name)
	thick, _ := b.Thickness()
	its, _ := x.Thickness()
	assert.InDelta(t, thick.Value, its.Value, 1e-6, name)
	assert.Equal(t, b.Layers(), x.Layers(), name)
	if rows := b.Castellations(); len(rows) > 0 {
		require.Len(t, x.Castellations(), 1, name)
		assert.Equal(t, rows[0].Hole.Value, x.Castellations()[0].Hole.Value, name)
	}
	for _, of := range c.Of {
		p := b.PlatingNamed(of)
		assert.Equal(t, []any{p.Copper.Value, p.Least.Value, p.Wrap[0].Value, p.Wrap[1].Value, p.Extend.Value, p.Net.Text}, []any{wall.Copper.Value, wall.Least.Value, wall.Wrap[0].Value, wall.Wrap[1].Value, wall.Extend.Value, wall.Net.Text}, "%s %s", name, of)
		assert.Equal(t, b.Joined(p), x.Joined(wall), "%s %s: the layers that it joins", name, of)
		assert.Equal(t, b.FinishOf(p).Text, x.FinishOf(wall).Text, "%s %s", name, of)
	}
}

// tiedToNothing holds a coupon's wall to what a board's notes say of it: no plane, no
// via and no other copper carries a current past it, and on each inner layer that it
// joins it has a strip of its own, which the layers draw.
func tiedToNothing(t *testing.T, name string, x *board.Board) {
	t.Helper()
	wall, metal := x.Platings()[0], copper.Of(x, copper.PiecesAlone())
	assert.Empty(t, x.Planes(), name)
	assert.Empty(t, x.Features(), name)
	assert.Empty(t, x.Fences(), name)
	assert.Empty(t, x.Holes(), name)
	for _, l := range x.Joined(wall) {
		if outer, _ := metal.Outer(metal.Layer(l)); !outer {
			ties := metal.Ties(wall, l)
			require.Len(t, ties, 1, "%s: %s", name, l)
			assert.Equal(t, copper.Strip, ties[0].Kind, "%s: %s", name, l)
		}
	}
	if m, ok := figures.Conduct(x).Continuity(wall); ok {
		assert.Empty(t, m.Layers, name)
		assert.False(t, m.Vias, name)
	}
}

// build.json of every clean board is what its schema says, held to it by a
// library that knows nothing of hemline; a key more, one less, and a number that
// is none are not.
func TestBuildsMeetTheirSchema(t *testing.T) {
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(build.Schema))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("build.json", document))
	schema, err := compiler.Compile("build.json")
	require.NoError(t, err)
	ordered(t, func(name string, a *lang.Analysis) {
		b := a.Board()
		made := build.Make(b, build.Options{Program: "0.0.0", Text: "text/a.hem", Bits: checks.LimitsFor(a).Bits(b),
			Files: []bundle.File{{Name: "layers/profile.gbr", Role: "layer", Function: "Profile,P", About: "the profile"}}})
		data, err := made.JSON()
		require.NoError(t, err)
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		require.NoError(t, err)
		require.NoError(t, schema.Validate(value), "%s\n%s", name, data)
		for _, spoilt := range []func(map[string]any){
			func(m map[string]any) { m["colour"] = "green" },
			func(m map[string]any) { delete(m, "size") },
			func(m map[string]any) { delete(m, "check") },
			func(m map[string]any) { m["check"].(map[string]any)["findingsStanding"] = json.Number("-1") },
			func(m map[string]any) { m["version"] = json.Number("2") },
			func(m map[string]any) { m["size"].(map[string]any)["widthMm"] = "62 mm" },
			func(m map[string]any) { m["files"].([]any)[0].(map[string]any)["path"] = "../a" },
		} {
			again, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
			require.NoError(t, err)
			spoilt(again.(map[string]any))
			require.Error(t, schema.Validate(again), name)
		}
		sums(t, name, b, made)
	})
}

// sums holds the lengths of build.json to the model's: what lies on each edge and
// each corner comes to what is plated, and so do the stretches.
func sums(t *testing.T, name string, b *board.Board, d *build.Document) {
	t.Helper()
	for i, p := range d.Platings {
		edges, stretches := 0.0, 0.0
		for _, e := range p.Edges {
			edges += e.Plated
			assert.NotEqual(t, e.Edge == "", e.Corner == nil, name)
		}
		for _, s := range p.Stretches {
			stretches += s.Length
			assert.True(t, strings.HasPrefix(s.Name, p.Name+" "), name)
		}
		const each = 1e-6 // a nanometre of rounding each
		assert.InDelta(t, b.PlatedLength(b.Platings()[i])/1e6, p.Plated, each, name)
		assert.InDelta(t, p.Plated, edges, each*float64(len(p.Edges)+1), "%s: %s by edge", name, p.Name)
		assert.InDelta(t, p.Plated, stretches, each*float64(len(p.Stretches)+1), "%s: %s", name, p.Name)
	}
	assert.Len(t, d.Tabs, len(b.Tabs()))
	assert.Len(t, d.Rows, len(b.Castellations()))
	assert.Len(t, d.Routs, len(b.Profiles()))
}
