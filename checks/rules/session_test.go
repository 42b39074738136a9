package rules

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/langtest"
)

// typedPieces are statements that rules read without an item of theirs being in
// the way: they come and go in every text.
var typedPieces = []string{
	"leave tab_places to shop because \"its usual frame\"\n", "leave edge_finish tab_length along south to shop because \"so\"\n", "note \"so\"\n", "marking \"date code\" on top at (20 mm, 10 mm)\n", "delivery single\n", "tolerance { outline 0.1 mm }\n", "criteria { voids none }\n", "relief typed over wall on top bottom reach 1 mm\n",
	"gap typed of wall on south at middle width 3 mm\n", "plane on top net GND pullback 0.5 mm\n", "plane on bottom top net V9 pullback 0.1 mm\n", "plane on bottom top net V9 pullback 0.2 mm within (0 mm, 0 mm) to (20 mm, 9 mm)\n", "plane on bottom net GND pullback 0.2 mm within (20 mm, 0 mm) to (30 mm, 90 mm)\n", "relief typed over wall on top along south\n", "feature typed on top circle 1 mm at (1.2 mm, 9 mm) net V9\n",
	"tab typed on north at middle width 3 mm solid premetallised\n", "let typed = 3 mm\n", "fabricator typed { limit wrap_land minimum 0.5 mm; limit neck minimum 2 mm }\n",
	"accept wrap_clearance on typed f1 with wall because \"so\"\n", "gap typed of wall on south at middle width 3 mm for typed\n", "tab typed on south at middle width 2 mm solid\n",
	"accept wrap_land on wall because \"so\" until \"2027-01-14\"\n", "hole typed diameter 7 mm at (5 mm, 5 mm) unplated\n",
	"connector typed on west at middle { body 4 mm; pin top width 1 mm length 2 mm }\n", "connector typed on west at middle { body 4 mm; pin top width 1 mm length 2 mm; opens margin 0.2 mm bridged }\n",
	"tab typed on north at middle width 3 mm solid opens margin 0.5 mm\n", "tab typed on south at middle width 2 mm solid premetallised opens wall span 3 mm\n", "castellation typed on east at middle hole 1 mm land 1.8 mm by 1.6 mm net GND\n",
	"fence typed along north inset 1 mm pitch 1 mm hole 0.3 mm net GND\n", "cutout typed circle 2 mm at (9 mm, 9 mm)\n", "plating typed { along north; net V9; wrap top 0.2 mm }\n",
	"board typed { thickness 0.4 mm; frequency 9 GHz; voltage 48 V; shielding 9 dB }\n", "stack { copper top 35 um; dielectric d 1 mm; copper bottom 35 um }\n", "// typed\n",
}

// What is kept of a rule from one version to the next is what it would find
// now: the texts of all rules, and boards that are clean, are edited at random,
// and after each edit a check with a session finds what one without does. A
// session is one check's at a time.
func TestSessionsAndFreshChecksAgree(t *testing.T) {
	var texts []string
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		texts = append(texts, s.Text())
	}
	for i, text := range cleanBoards() {
		if i%3 == 0 {
			texts = append(texts, text)
		}
	}
	words := regexp.MustCompile(`[\w.]+`)
	for n, text := range texts {
		if passedOver(n) {
			continue
		}
		r := rand.New(rand.NewPCG(uint64(n), 7))
		var session checks.Session
		var a *lang.Analysis
		past := []string{text}
		for range 20 {
			a = readAfter("a.hem", text, a)
			o := checks.Options{Today: today}
			fresh := everything(All().Check(readText("a.hem", text), o))
			o.Session = &session
			got := everything(All().Check(a, o))
			if got != fresh {
				require.Equal(t, fresh, got, "%s", text)
			}

			lines := strings.SplitAfter(text, "\n")
			at := r.IntN(len(lines))
			switch r.IntN(6) {
			case 0: // back to an earlier version
				text = past[r.IntN(len(past))]
			case 1: // a line goes
				text = strings.Join(lines[:at], "") + strings.Join(lines[at+1:], "")
			case 2: // a word or number becomes another one of the text
				all := words.FindAllStringIndex(text, -1)
				if len(all) > 0 {
					x, y := all[r.IntN(len(all))], all[r.IntN(len(all))]
					text = text[:x[0]] + text[y[0]:y[1]] + text[x[1]:]
				}
			default:
				text = strings.Join(lines[:at], "") + typedPieces[r.IntN(len(typedPieces))] + strings.Join(lines[at:], "")
			}
			past = append(past, text)
		}
	}
}

// everything is all that findings say, fixes and related places included, and
// the answers to what the board asks for.
func everything(out checks.Outcome) string {
	var b strings.Builder
	for _, a := range out.Asked {
		b.WriteString(a.Line() + "\n")
	}
	for _, f := range out.Findings {
		b.WriteString(f.Rule + " " + f.Message + " " + strings.Join(f.Items, ",") + " " + f.File.Slice(f.Span))
		for _, r := range f.Related {
			b.WriteString(" | " + r.Message)
		}
		if f.Fix != nil {
			b.WriteString(" fix " + f.Fix.Title)
			for _, e := range f.Fix.Edits {
				b.WriteString(" " + e.Text)
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}
