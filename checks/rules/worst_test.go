package rules

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
)

// worstRules judge at worst too.
var worstRules = []*checks.Rule{openingLong, shieldingShort, fencePitch}

// foundAtWorst are the findings of the rules that judge at worst, by rule and item.
func foundAtWorst(text string) map[string]bool {
	found := map[string]bool{}
	for _, f := range All().Check(analyze(text), checks.Options{Only: worstRules}).Findings {
		for _, r := range worstRules {
			switch {
			case f.Rule != r.Name:
			case r == shieldingShort: // of the opening that leaks most, which may be another
				found[f.Rule] = true
			default:
				found[fmt.Sprint(f.Rule, f.Items)] = true
			}
		}
	}
	return found
}

// asDrawn states that next to nothing is off, so that a board is judged as drawn.
const asDrawn = "tolerance { outline 1 nm; gaps 1 nm; cutouts 1 nm; holes 1 nm; half_holes 1 nm; position 1 nm; mask 1 nm }"

// finer states a tolerance for every clause, a share of what is built in.
func finer(share float64) string {
	return fmt.Sprintf("tolerance { outline %[1]g mm; thickness %[2]g %%; gaps %[3]g mm; cutouts %[1]g mm; holes %[4]g mm; half_holes %[1]g mm; position %[1]g mm; mask %[5]g mm }\n",
		0.1*share, 10*share, 0.2*share, 0.076*share, 0.075*share)
}

// openBoard is a board of gaps, bodies, tabs and a fence about as long as its
// frequency allows.
func openBoard(r *rand.Rand) (text string, g float64) {
	near := func(mm float64) float64 { return mm * (0.8 + 0.3*r.Float64()) }
	thick, g := near(2.9), near(2.95)
	return fmt.Sprintf("board b { frequency 2.45 GHz; thickness %.3f mm; shielding %.2f dB }\noutline rectangle 90 mm by 60 mm\nplating wall { along all; net GND }\n"+
		"gap g of wall on west at 20 mm width %.3f mm\ngap h of wall on west at 45 mm width %.3f mm\n"+
		"gap k of wall on south from 10 mm to %.3f mm for c bridged\nconnector c on south at 12 mm { body 6 mm }\n"+
		"gap l of wall on south at 60 mm width 6 mm for d bridged\nconnector d on south at 60 mm { body %.3f mm }\n"+
		"tab t on east at 30 mm width %.3f mm solid premetallised\nfence f along north inset 2 mm pitch %.3f mm hole 0.3 mm net GND\n",
		thick, near(20), g, near(2.95), near(16.5)+1.4, near(6.2), near(2.95), near(2.95)), max(thick, g)
}

// What is found as the tolerances are finer is found as they are coarser; with
// next to none a gap is judged as drawn, by its length or the wall's height.
func TestFinerTolerancesFindNoMore(t *testing.T) {
	unraced(t)
	r := rand.New(rand.NewPCG(21, 3))
	only := 0 // boards on which something is found at worst alone
	for n := range 200 {
		text, g := openBoard(r)
		shares := []float64{1e-5, 0.3, 0.7, 1, 2}
		var before map[string]bool
		for i, share := range shares {
			found := foundAtWorst(text + finer(share))
			for f := range before {
				require.True(t, found[f], "board %d: %s is found at %g of the tolerances and not at %g\n%s", n, f, shares[i-1], share, text)
			}
			if i == 0 {
				// c/(2.45 GHz·√4.3)/20 is 2.95047 mm, by hand.
				assert.Equal(t, g > 2.9505, found["opening_long[g]"], text)
			}
			if i > 0 && len(found) > len(before) {
				only++
			}
			before = found
		}
		assert.Equal(t, foundAtWorst(text), foundAtWorst(text+finer(1)), "what is not stated is as the shop holds it\n%s", text)
	}
	assert.Greater(t, only, 100)
}

// closePair is two things of two nets: what states them, the rule that holds them,
// how far they are apart and what moves them, by a reckoning of its own.
type closePair struct {
	text, rule string
	apart      float64 // mm
	moves      map[string]float64
}

// closePairs are pairs about as near as tolerances are coarse.
func closePairs(r *rand.Rand) []closePair {
	d := func() float64 { return math.Round((0.02+0.5*r.Float64())*1e4) / 1e4 }
	a, b, c, e, f, g := d(), d(), d(), d(), d(), d()
	angle := r.Float64() * math.Pi / 2
	across, up := (1+b)*math.Cos(angle), (1+b)*math.Sin(angle)
	return []closePair{
		{fmt.Sprintf("hole a1 diameter 1 mm at (10 mm, 30 mm) plated net A\nfeature a2 on top rectangle 1 mm by 2 mm at (%.6f mm, 30 mm) net B\n", 11+a),
			"copper_clearance", a, map[string]float64{"position": 1, "holes": 0.5}},
		{fmt.Sprintf("hole b1 diameter 1 mm at (20 mm, 30 mm) plated net A\nhole b2 diameter 1 mm at (%.6f mm, %.6f mm) plated net B\n", 20+across, 30+up),
			"copper_clearance", b, map[string]float64{"position": 2, "holes": 1}},
		{fmt.Sprintf("castellation c1 on south at 20 mm hole 1 mm land 1.1 mm by 1 mm net A\nfeature c2 on mid rectangle 1 mm by 1 mm at (20 mm, %.6f mm) net B\n", 1+c),
			"copper_clearance", c, map[string]float64{"position": 1, "half_holes": 0.5}},
		{fmt.Sprintf("feature e1 on top circle 1 mm at (40 mm, 30 mm) net A\nfeature e2 on top circle 1 mm at (%.6f mm, 30 mm) net B\n", 41+e),
			"copper_clearance", e, nil},
		{fmt.Sprintf("hole f1 diameter 1 mm at (%.6f mm, 30 mm) plated net A\n", 59.5-f), "wall_short", f, map[string]float64{"outline": 1, "position": 1, "holes": 0.5}},
		{fmt.Sprintf("connector g1 on west at 20 mm { body 9 mm; pin top width 1 mm length 3 mm; net A }\ngap g of wall on west at 20 mm width %.6f mm for g1\n", 1+2*g),
			"launch_clearance", g, map[string]float64{"gaps": 1}},
	}
}

// Nets that may touch at worst are found, and no others: by distances and sums
// that are reckoned here, with tolerances of the text, of the shop and built in.
func TestNetsThatMayTouchAtWorst(t *testing.T) {
	unraced(t)
	const limit = 0.1
	r := rand.New(rand.NewPCG(21, 4))
	shop := "limit copper_clearance minimum 0.1 mm; limit inner_clearance minimum 0.1 mm; limit launch_clearance minimum 0.1 mm; limit hole_web minimum 0 mm"
	below, worst, kept := map[string]int{}, map[string]int{}, map[string]int{}
	for range 300 {
		of := map[string]float64{"outline": 0.1, "gaps": 0.2, "holes": 0.076, "half_holes": 0.1, "position": 0.1}
		stated, limits := "", shop
		for _, clause := range slices.Sorted(maps.Keys(of)) {
			v := math.Round(r.Float64()*3000) / 1e4
			switch r.IntN(3) {
			case 0:
				of[clause], stated = max(v, 0.0001), stated+fmt.Sprintf("tolerance { %s %g mm }\n", clause, max(v, 0.0001))
			case 1:
				of[clause], limits = v, limits+fmt.Sprintf("; limit tolerance_%s minimum %g mm", clause, v)
			}
		}
		text := "stack { copper top 35 um; dielectric a 0.5 mm; copper mid 17 um; dielectric b 0.5 mm; copper bottom 35 um }\noutline rectangle 60 mm by 40 mm\n" +
			"plating wall { along west east; net GND }\nfabricator shop { " + limits + " }\n" + stated
		pairs := closePairs(r)
		for _, c := range pairs {
			text += c.text
		}
		found := map[string]string{}
		for _, f := range All().Check(analyze(text), checks.Options{}).Findings {
			found[f.Rule+" "+f.Items[0][:1]] = f.Message
		}
		for _, c := range pairs {
			sum := 0.0
			for clause, n := range c.moves {
				sum += n * of[clause]
			}
			key := c.rule + " " + strings.Fields(c.text)[1][:1]
			message, is := found[key]
			switch {
			case math.Abs(c.apart-limit) < 2e-6 || math.Abs(c.apart-sum) < 2e-6:
			case c.apart < limit:
				below[key]++
				assert.Contains(t, message, "asks for at least", "%s\n%s", key, text)
			case c.apart < sum:
				worst[key]++
				assert.Contains(t, message, "at worst nothing is left", "%s: %g mm of %g mm\n%s", key, c.apart, sum, text)
			default:
				kept[key]++
				assert.False(t, is, "%s: %g mm of %g mm: %s\n%s", key, c.apart, sum, message, text)
			}
		}
	}
	for key := range kept {
		assert.Greater(t, below[key], 20, key)
		assert.Equal(t, key == "copper_clearance e", worst[key] < 20, "printed copper alone is not found at worst: %s", key)
	}
	assert.Len(t, kept, 6)
}

// A tolerance that is typed finds what a session's map did not look for, though
// another connector asks for more room than either tolerance does.
func TestATypedToleranceIsLookedFor(t *testing.T) {
	const text = "fabricator shop { limit launch_clearance minimum 0.1 mm }\noutline rectangle 60 mm by 40 mm\nplating wall { along west east; net GND }\n" +
		"connector c on west at 20 mm { body 9 mm; pin top width 1 mm length 3 mm; net RF }\ngap g of wall on west at 20 mm width 1.44 mm for c\n" +
		"connector d on south at 30 mm { body 9 mm; pin top width 1 mm length 3 mm; clearance 3 mm; net RF }\n"
	var session checks.Session
	a := readAfter("a.hem", text+"tolerance { gaps 0.2 mm }\n", nil)
	assert.NotContains(t, everything(All().Check(a, checks.Options{Session: &session})), "at worst")
	a = readAfter("a.hem", text+"tolerance { gaps 0.24 mm }\n", a)
	assert.Contains(t, everything(All().Check(a, checks.Options{Session: &session})), "launch_clearance distance from the pin of connector c (net RF) on top to plating wall (net GND) at (0.00 mm, 19.50 mm) is 0.22 mm, at worst")
}
