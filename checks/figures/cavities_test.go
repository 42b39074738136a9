package figures_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/cavity"
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/source"
)

func cavitiesOf(t *testing.T, text string) []*figures.Cavity {
	t.Helper()
	a := lang.Analyze(source.New("a.hem", text), nil, nil)
	require.Empty(t, a.Findings())
	return figures.Cavities(a.Board())
}

const twoLayers = "stack { copper top 35 um; dielectric core 1.5 mm permittivity 4.3; copper bottom 35 um }\noutline rectangle 100 mm by 80 mm\n"

const three = "stack { copper top 35 um; dielectric a 0.5 mm permittivity 4.3; copper mid 35 um; dielectric c 0.7 mm permittivity 4.3; copper bottom 35 um }\noutline rectangle 100 mm by 80 mm\n"

const wall = "plating wall { along all; net GND }\nplane on top bottom net GND pullback 1 mm\n"

// Which planes make a pair, and what joins them.
func TestPairsOfPlanes(t *testing.T) {
	const four = `stack { copper top 35 um; dielectric a 0.254 mm permittivity 3.48; copper ground 35 um; dielectric b 0.2 mm permittivity 4.3; copper signal 35 um; dielectric c 0.3 mm; copper power 35 um; dielectric d 0.2 mm permittivity 4; copper bottom 35 um }
outline rectangle 100 mm by 80 mm
`
	for name, c := range map[string]struct {
		text string
		want []string // title, nets, permittivity, mm², share joined, fenced
	}{
		"none":                    {twoLayers + "plane on top net GND pullback 1 mm", nil},
		"open":                    {twoLayers + "plane on top bottom net GND pullback 1 mm", []string{"top to bottom GND GND 4.300 7644 0.00 false"}},
		"joined all round":        {twoLayers + "plating wall { along all; net GND }\nplane on top bottom net GND pullback 1 mm", []string{"top to bottom GND GND 4.300 8000 1.00 false"}},
		"joined by one side":      {twoLayers + "plating wall { along south; net GND }\nplane on top bottom net GND pullback 0 mm", []string{"top to bottom GND GND 4.300 8000 0.28 false"}},
		"layers leave one out":    {twoLayers + "plating wall { along all; net GND; layers top }\nplane on top bottom net GND pullback 1 mm", []string{"top to bottom GND GND 4.300 7644 0.00 false"}},
		"two nets are open":       {twoLayers + "plating wall { along all; net GND }\nplane on top net GND pullback 1 mm\nplane on bottom net V5 pullback 1 mm", []string{"top to bottom GND V5 4.300 7644 0.00 false"}},
		"no net is open":          {twoLayers + "plane on top bottom pullback 1 mm\nfence f along all inset 2 mm pitch 4 mm hole 0.4 mm", []string{"top to bottom   4.300 7644 0.00 false"}},
		"a fence":                 {twoLayers + "plane on top bottom net GND pullback 1 mm\nfence f along all inset 2 mm pitch 4 mm hole 0.4 mm net GND", []string{"top to bottom GND GND 4.300 7644 0.00 true"}},
		"in series, 3.48 and 4.3": {"stack { copper top 35 um; dielectric a 0.254 mm permittivity 3.48; dielectric c 0.71 mm permittivity 4.3; copper bottom 35 um }\noutline rectangle 100 mm by 80 mm\nplane on top bottom net GND pullback 0 mm", []string{"top to bottom GND GND 4.049 8000 0.00 false"}},
		// Over the signal layer: 0.5 mm of 4.3, the one stated and the other assumed.
		"neighbours": {four + "plane on ground bottom net GND pullback 0 mm\nplane on power net V5 pullback 0 mm", []string{"ground to power GND V5 4.300 8000 0.00 false", "power to bottom V5 GND 4.000 8000 0.00 false"}},
		// Two of one net with another between, joined along the wall, are a pair too; open, they have no mode that the nearer pairs have not.
		"past another net":             {three + wall + "plane on mid net V5 pullback 1 mm", []string{"top to mid GND V5 4.300 7644 0.00 false", "top to bottom, past mid GND GND 4.300 8000 1.00 false", "mid to bottom V5 GND 4.300 7644 0.00 false"}},
		"past another net, open":       {three + "plane on mid net V5 pullback 1 mm\nplane on top bottom net GND pullback 0.5 mm", []string{"top to mid GND V5 4.300 7644 0.00 false", "mid to bottom V5 GND 4.300 7644 0.00 false"}},
		"past an island of another":    {three + wall + "plane on mid net V5 pullback 1 mm within (48 mm, 38 mm) to (52 mm, 42 mm)", []string{"top to mid GND V5 4.300 16 0.00 false", "top to bottom, past mid GND GND 4.300 8000 1.00 false", "mid to bottom V5 GND 4.300 16 0.00 false"}},
		"an open one, past an island":  {three + "plane on mid net V5 pullback 1 mm within (48 mm, 38 mm) to (52 mm, 42 mm)\nplane on top bottom net GND pullback 0 mm", []string{"top to mid GND V5 4.300 16 0.00 false", "top to bottom, past mid GND GND 4.300 8000 0.00 false", "mid to bottom V5 GND 4.300 16 0.00 false"}},
		"past an island of its own":    {three + wall + "plane on mid net GND pullback 1 mm within (48 mm, 38 mm) to (52 mm, 42 mm)", []string{"top to mid GND GND 4.300 16 0.00 false", "top to bottom, past mid GND GND 4.300 8000 1.00 false", "mid to bottom GND GND 4.300 16 0.00 false"}},
		"past half a plane":            {three + wall + "plane on mid net GND pullback 1 mm within (0 mm, 0 mm) to (50 mm, 80 mm)", []string{"top to mid GND GND 4.300 4000 0.69 false", "top to bottom, past mid GND GND 4.300 8000 1.00 false", "mid to bottom GND GND 4.300 4000 0.69 false"}},
		"a whole one of its own hides": {three + wall + "plane on mid net GND pullback 1 mm", []string{"top to mid GND GND 4.300 8000 1.00 false", "mid to bottom GND GND 4.300 8000 1.00 false"}},
		"not one that is not joined":   {three + "plating wall { along all; net GND; layers top bottom }\nplane on top bottom net GND pullback 1 mm\nplane on mid net GND pullback 1 mm", []string{"top to mid GND GND 4.300 7644 0.00 false", "top to bottom, past mid GND GND 4.300 8000 1.00 false", "mid to bottom GND GND 4.300 7644 0.00 false"}},
		"a fence joins past it":        {three + "fence f along all inset 2 mm pitch 4 mm hole 0.4 mm net GND\nplane on top bottom net GND pullback 1 mm\nplane on mid net V5 pullback 1 mm", []string{"top to mid GND V5 4.300 7644 0.00 false", "top to bottom, past mid GND GND 4.300 7644 0.00 true", "mid to bottom V5 GND 4.300 7644 0.00 false"}},
		"no net, no pair past one":     {three + "plane on top bottom pullback 1 mm\nplane on mid net V5 pullback 1 mm within (48 mm, 38 mm) to (52 mm, 42 mm)", []string{"top to mid  V5 4.300 16 0.00 false", "mid to bottom V5  4.300 16 0.00 false"}},
		"past two, in series":          {four + "plating wall { along all; net GND }\nplane on top bottom net GND pullback 0 mm\nplane on ground net V3 pullback 0 mm\nplane on power net V5 pullback 0 mm", []string{"top to ground GND V3 3.480 8000 0.00 false", "top to bottom, past ground, power GND GND 3.987 8000 1.00 false", "ground to power V3 V5 4.300 8000 0.00 false", "power to bottom V5 GND 4.000 8000 0.00 false"}},
		"two nets a layer":             {twoLayers + "plane on top net GND pullback 0 mm\nplane on bottom net V5 pullback 0 mm within (0 mm, 0 mm) to (40 mm, 80 mm)\nplane on bottom net V3 pullback 0 mm within (41 mm, 0 mm) to (100 mm, 80 mm)", []string{"top to bottom, GND to V5 GND V5 4.300 3200 0.00 false", "top to bottom, GND to V3 GND V3 4.300 4720 0.00 false"}},
	} {
		t.Run(name, func(t *testing.T) {
			var got []string
			for _, c := range cavitiesOf(t, c.text) {
				got = append(got, fmt.Sprintf("%s %s %s %.3f %.0f %.2f %v", c.Title(), c.UpperNet, c.LowerNet, c.Permittivity, c.Area*1e6, c.Electric, c.Fenced))
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// Planes that leave two places in common are two cavities, the larger first.
func TestPartsOfAPair(t *testing.T) {
	list := cavitiesOf(t, twoLayers+"plane on top net GND pullback 0 mm within (0 mm, 0 mm) to (30 mm, 80 mm)\nplane on top net GND pullback 0 mm within (50 mm, 0 mm) to (100 mm, 80 mm)\nplane on bottom net V5 pullback 0 mm")
	require.Len(t, list, 2)
	assert.Equal(t, "top to bottom, part 1", list[0].Title())
	assert.InDelta(t, 4000e-6, list[0].Area, 1e-9)
	assert.InDelta(t, 2400e-6, list[1].Area, 1e-9)
	assert.Len(t, list[0].Shape.Rings, 1)
}

// A fence along all edges is closed: its paths leave no end that another via of it is near.
func TestAFenceAllRoundIsClosed(t *testing.T) {
	list := cavitiesOf(t, twoLayers+"plane on top bottom net GND pullback 1 mm\nfence f along all inset 2 mm pitch 4 mm hole 0.4 mm net GND")
	long := 0.0
	for _, f := range list[0].Shape.Fences {
		for i := 1; i < len(f.Path); i++ {
			long += f.Path[i].Dist(f.Path[i-1])
		}
	}
	assert.InDelta(t, 2*(0.096+0.076), long, 1e-9, "as long as the rectangle that it is")
}

// A flat plane between two others stands square to their field: 100 by 80 mm plated all
// round keeps 1.1571 GHz (closed form, as in checks/cavity) whatever lies between.
func TestPlanesBetweenLeaveTheMode(t *testing.T) {
	for name, between := range map[string]string{
		"nothing":                  "",
		"an island":                "plane on mid net V5 pullback 1 mm within (48 mm, 38 mm) to (52 mm, 42 mm)",
		"an island of the net":     "plane on mid net GND pullback 1 mm within (48 mm, 38 mm) to (52 mm, 42 mm)",
		"a shelf at the wall":      "plane on mid net GND pullback 1 mm within (0 mm, 20 mm) to (30 mm, 60 mm)",
		"a whole plane":            "plane on mid net V5 pullback 1 mm",
		"a whole plane of the net": "plane on mid net GND pullback 1 mm",
		"two nets":                 "plane on mid net V5 pullback 1 mm within (0 mm, 0 mm) to (49 mm, 80 mm)\nplane on mid net V3 pullback 1 mm within (50 mm, 0 mm) to (100 mm, 80 mm)",
	} {
		list := cavitiesOf(t, "board b { frequency 1.2 GHz }\n"+three+wall+between)
		store := figures.NewStore(nil)
		require.NoError(t, store.WorkOut(context.Background(), list))
		all, waits := store.Resonances(list)
		require.Empty(t, waits)
		found := false
		for _, r := range all {
			for _, m := range r.Modes {
				found = found || r.Electric == 1 && math.Abs(m.F/1.1571e9-1) < 0.005
			}
		}
		assert.True(t, found, name)
	}
}

// Open edges fringe: the least counts it. 30 by 20 mm, permittivity 3.66: 2.6117 GHz without,
// 2.5709 with planes that end together, 1 mm apart (worked out by hand after Hammerstad 1975).
func TestTheLeastCountsFringing(t *testing.T) {
	const small = "stack { copper top 35 um; dielectric core 1 mm permittivity 3.66; copper bottom 35 um }\noutline rectangle 30 mm by 20 mm\nplane on top bottom net GND pullback 0 mm\n"
	first := func(rest string) (cavity.Mode, *figures.Cavity) {
		list := cavitiesOf(t, small+rest)
		store := figures.NewStore(nil)
		_, err := store.Modes(context.Background(), list[0])
		require.NoError(t, err)
		all, _ := store.Resonances(list)
		return all[0].Modes[0], list[0]
	}
	m, c := first("")
	assert.InDelta(t, 2.6117e9, m.F, 1e6, "the mode itself does not")
	assert.Less(t, m.Least, 2.5709e9)
	assert.InDelta(t, 0.0454, c.Fringing, 0.0005, "0.4755 mm at both ends of 20 mm")
	m, c = first("plating wall { along all; net GND }\n")
	assert.Zero(t, c.Fringing, "none is open")
	assert.Greater(t, m.Least, 0.99*m.F)
	m, c = first("plating wall { along all; net GND }\ngap g of wall on south at 15 mm width 2 mm\n")
	assert.InDelta(t, 2*0.4755*2/600, c.Fringing, 1e-4, "2 mm of 100 are")
}

// How many modes there are up to a frequency, against the count by the closed form.
func TestHowManyModes(t *testing.T) {
	for _, c := range []struct {
		a, b, ghz float64
		plated    bool
		want      int
	}{{200, 5, 8, false, 22}, {150, 10, 10, true, 14}, {100, 80, 3, true, 7}, {100, 80, 3, false, 14}, {100, 80, 20, true, 458}, {300, 20, 15, false, 239}} {
		k, first := 2*math.Pi*c.ghz*1e9*math.Sqrt(4.3)/299792458, 0
		if c.plated {
			first = 1
		}
		exact := 0
		for m := first; m < 1000; m++ {
			for n := first; n < 1000; n++ {
				if m+n > 0 && math.Hypot(math.Pi*float64(m)/(c.a*1e-3), math.Pi*float64(n)/(c.b*1e-3)) <= k {
					exact++
				}
			}
		}
		text := fmt.Sprintf("stack { copper top 35 um; dielectric core 1.5 mm permittivity 4.3; copper bottom 35 um }\noutline rectangle %g mm by %g mm\nplane on top bottom net GND pullback 0 mm\n", c.a, c.b)
		if c.plated {
			text += "plating wall { along all; net GND }\n"
		}
		assert.Equal(t, c.want, exact, "%v", c)
		assert.InDelta(t, exact, cavitiesOf(t, text)[0].Dense(c.ghz*1e9), max(3, 0.1*float64(exact)), "%v", c)
	}
}

// The same geometry has the same key, whatever else the text says; another has another.
func TestKeysGoByGeometry(t *testing.T) {
	base := "plating wall { along all; net GND }\nplane on top bottom net GND pullback 1 mm\n"
	key := cavitiesOf(t, twoLayers+base)[0].Key
	assert.Equal(t, key, cavitiesOf(t, twoLayers+"note \"more\"\nplating other { along all; net GND; copper 25 um; wrap top 1 mm }\nplane on top bottom net GND pullback 1 mm\n")[0].Key)
	for _, other := range []string{"gap g of wall on south at 20 mm width 2 mm\n", "cutout c circle 3 mm at (30 mm, 30 mm)\n", "board b { frequency 1 GHz }\n", "fence f along south inset 2 mm pitch 3 mm hole 0.3 mm net GND\n"} {
		assert.NotEqual(t, key, cavitiesOf(t, twoLayers+base+other)[0].Key, other)
	}
}

func cavityWith(key byte) *figures.Cavity { return &figures.Cavity{Key: figures.Key{key}} }

// Whoever asks at once waits for one solution; what is known is not worked out again.
func TestAStoreWorksOutEachOnce(t *testing.T) {
	var calls atomic.Int32
	gate := make(chan struct{})
	s := figures.NewStore(func(context.Context, cavity.Shape, cavity.Want) ([]cavity.Mode, error) {
		calls.Add(1)
		<-gate
		return []cavity.Mode{{F: 1e9}}, nil
	})
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			modes, err := s.Modes(context.Background(), cavityWith(1))
			assert.NoError(t, err)
			assert.Len(t, modes, 1)
		})
	}
	close(gate)
	all.Wait()
	assert.EqualValues(t, 1, calls.Load())
	_, _, ok := s.Known(cavityWith(2))
	assert.False(t, ok)
}

// What is given up is not kept, and whoever waited for it works it out himself; what
// cannot be worked out is.
func TestAStoreKeepsNothingThatWasGivenUp(t *testing.T) {
	began := make(chan struct{}, 2)
	first := atomic.Bool{}
	s := figures.NewStore(func(ctx context.Context, _ cavity.Shape, _ cavity.Want) ([]cavity.Mode, error) {
		began <- struct{}{}
		if !first.Swap(true) {
			<-ctx.Done()
			return nil, ctx.Err()
		}
		return nil, errors.New("bounds nothing")
	})
	ctx, cancel := context.WithCancel(context.Background())
	var both sync.WaitGroup
	both.Go(func() {
		_, err := s.Modes(ctx, cavityWith(1))
		assert.ErrorIs(t, err, context.Canceled)
	})
	<-began
	both.Go(func() {
		_, err := s.Modes(context.Background(), cavityWith(1))
		assert.EqualError(t, err, "bounds nothing")
	})
	cancel()
	both.Wait()
	_, err, ok := s.Known(cavityWith(1))
	assert.True(t, ok)
	assert.EqualError(t, err, "bounds nothing")
}

// A store forgets what was asked for longest ago.
func TestAStoreIsBounded(t *testing.T) {
	s := figures.NewStore(func(context.Context, cavity.Shape, cavity.Want) ([]cavity.Mode, error) { return nil, nil })
	ctx := context.Background()
	for i := range 200 {
		_, _ = s.Modes(ctx, cavityWith(byte(i)))
		_, _, ok := s.Known(cavityWith(0))
		assert.True(t, ok, "it was asked for just now")
	}
	known := 0
	for i := range 200 {
		if _, _, ok := s.Known(cavityWith(byte(i))); ok {
			known++
		}
	}
	assert.Equal(t, 128, known)
}

// A fence that cuts a cell twice, or beside a wall, is held by enough: the farther from the edge
// it stands, the higher the mode, without a step. What the first was at 1.5 mm held before.
func TestAFenceAnywhereHasModes(t *testing.T) {
	const board = "board b { frequency 2 GHz }\nstack { copper top 35 um; dielectric core 1.5 mm permittivity 4.3; copper bottom 35 um }\n" +
		"outline { start (0 mm, 0 mm); line south to (50 mm, 0 mm) corner 1 mm; line east to (50 mm, 30 mm) corner 1 mm; line north_e to (32 mm, 30 mm)\n" +
		"line n1 to (32 mm, 25 mm) corner 1 mm; line n2 to (24 mm, 25 mm) corner 1 mm; line n3 to (24 mm, 30 mm)\n" +
		"line north_w to (0 mm, 30 mm) corner 1 mm; close west corner 1 mm }\nplane on top bottom net GND pullback 1.2 mm\n"
	last := 1.33e9
	for _, inset := range []string{"1.5", "1.9", "2", "2.1"} {
		list := cavitiesOf(t, board+"fence f along south inset "+inset+" mm pitch 3 mm hole 0.3 mm net GND")
		modes, err := cavity.Solve(context.Background(), list[0].Shape, list[0].Want)
		require.NoError(t, err, inset)
		assert.Greater(t, modes[0].F, last, inset)
		assert.Less(t, modes[0].F, last+0.03e9, inset)
		last = modes[0].F
	}
}
