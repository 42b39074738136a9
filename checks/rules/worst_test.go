package rules

import (
	"fmt"
	"math/rand/v2"
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
