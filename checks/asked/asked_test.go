package asked

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

func of(text string) *board.Board {
	return lang.Analyze(source.New("a.hem", text), nil, nil).Board()
}

const wall = `
stack { copper top 35 um; dielectric core 1.53 mm permittivity 4.3; copper bottom 35 um }
outline rectangle 120 mm by 80 mm
plating wall { along west; net GND; copper 25 um }
plating other { along east south north; net GND; copper 50 um }
gap g of wall on west at middle width 5 mm
`

// held are tolerances that a shop holds: 0.2 mm at each end of a plated stretch,
// a tenth of the thickness.
func held(clause string) figures.Tolerance {
	q := quantity.Of(0.2, quantity.Millimetre)
	if clause == "thickness" {
		q = quantity.Of(10, quantity.Percent)
	}
	return figures.Tolerance{Clause: clause, Quantity: q, Who: "common practice"}
}

// What is said of what is met, short and not verified. Numbers: 5 mm at 5.8 GHz
// in er 4.3 are 7.93 dB, 5.4 mm 7.26 dB (5 mm at 1 GHz 23.2 dB, 5.4 mm 22.5 dB), 1.60 mm by 25 µm carry 2.63 A for 10 K, by hand; 20 and
// 25 µm are IPC-6012's averages, from memory.
func TestAnswers(t *testing.T) {
	for _, c := range []struct {
		says  string
		want  []string
		pairs Pairs
	}{
		{"title \"nothing asked\"; frequency 1 GHz", nil, Pairs{}},
		{"shielding 7 dB; frequency 5.8 GHz", []string{"shielding 7 dB: met: not short: the known openings allow at most 7.93 dB, 7.26 dB at worst, at 5.8 GHz"}, Pairs{}},
		{"shielding 8 dB; frequency 5.8 GHz", []string{"shielding 8 dB: short: the wall shields at most 7.93 dB at 5.8 GHz, limited by its opening at gap g, 5.00 mm long; the board asks for 8 dB, which takes at most 4.96 mm of openings"}, Pairs{}},
		{"shielding 7.3 dB; frequency 5.8 GHz", []string{"shielding 7.3 dB: short: the wall shields at most 7.26 dB at worst at 5.8 GHz, limited by its opening at gap g, 5.00 mm, at worst 5.40 mm with the gaps' tolerance of 0.20 mm at each end, which is common practice; the board asks for 7.3 dB, which takes at most 5.38 mm of openings"}, Pairs{}},
		{"shielding 8 dB", []string{"shielding 8 dB: not verified: the board states no frequency that the wall is to shield at"}, Pairs{}},
		{"shielding 7 dB; frequency 5.8 GHz", []string{"shielding 7 dB: met: not short: the known openings allow at most 7.93 dB, 7.26 dB at worst, at 5.8 GHz"}, Pairs{}},
		// 6 mm, the root of a premetallised tab: 6.35 dB, by hand.
		{"shielding 7 dB; frequency 5.8 GHz }\ntab t on east at middle width 6 mm solid premetallised",
			[]string{"shielding 7 dB: short: the wall shields at most 6.35 dB at 5.8 GHz, limited by its opening at the root of tab t, 6.00 mm long; the board asks for 7 dB, which takes at most 5.57 mm of openings"}, Pairs{}},
		{"shielding 6 dB; frequency 5.8 GHz }\ntab t on east at middle width 6 mm solid premetallised",
			[]string{"shielding 6 dB: met: not short: the known openings allow at most 6.35 dB at 5.8 GHz"}, Pairs{}},
		{"class 3", []string{"class 3: met: copper on every wall is at least 25 µm on average"}, Pairs{}},
		{"class 3 }\ncriteria { voids none", []string{"class 3: not verified: copper on every wall is at least 25 µm on average, but the criteria do not state adhesion"}, Pairs{}},
		{"class 3 }\ncriteria { voids none; adhesion \"TBD\"", []string{"class 3: not verified: copper on every wall is at least 25 µm on average, but the criteria do not state adhesion"}, Pairs{}},
		{"class 3 }\ncriteria { adhesion \"tape test\"; voids maximum 1 mm", []string{"class 3: met: copper on every wall is at least 25 µm on average"}, Pairs{}},
		{"class 2", []string{"class 2: met: copper on every wall is at least 20 µm on average"}, Pairs{}},
		{"current 2 A; rise 10 K", []string{"current 2 A for a rise of 10 K: met: plating wall carries at least 2.63 A for that rise in each of its stretches, through the wall, 1.6 mm by 25 µm, and no other less"}, Pairs{}},
		{"current 4 A; rise 10 K", []string{"current 4 A for a rise of 10 K: short: plating wall carries 2.63 A for a rise of 10 K; the board asks for 4 A"}, Pairs{}},
		{"rise 10 K; class 1; shielding 1 dB; current 1 A; frequency 1 GHz", []string{
			"shielding 1 dB: met: not short: the known openings allow at most 23.2 dB, 22.5 dB at worst, at 1 GHz",
			"class 1: met: copper on every wall is at least 20 µm on average",
			"current 1 A for a rise of 10 K: met: plating wall carries at least 2.63 A for that rise in each of its stretches, through the wall, 1.6 mm by 25 µm, and no other less"}, Pairs{}},
		{"voltage 48 V", []string{"voltage 48 V: met: every pair of the wall and other copper keeps its limit"}, Pairs{}},
		{"voltage 60 V; hazard none", []string{"voltage 60 V: met: every pair of the wall and other copper keeps its limit"}, Pairs{}},
		{"voltage 60 V", []string{"voltage 60 V: short: not every pair of the wall and other copper keeps its limit: plane_short, wrap_clearance"},
			Pairs{[]string{"wrap_clearance", "plane_short", "wrap_clearance"}, []string{"net_conflict"}}},
		{"voltage 60 V", []string{"voltage 60 V: not verified: not every pair of the wall and other copper keeps its limit, which is accepted: net_conflict"}, Pairs{nil, []string{"net_conflict"}}},
		{"voltage 60.001 V", []string{"voltage 60.001 V: not verified: it is above 60 V: clearances then follow the safety standard that governs the product"}, Pairs{}},
		{"voltage 24 V; hazard protective_earth", []string{"voltage 24 V: not verified: the wall is the product's protective earth: clearances then follow the safety standard that governs the product"}, Pairs{}},
		{"hazard live", []string{"hazard live: not verified: the wall is live, not safe to touch: clearances then follow the safety standard that governs the product"}, Pairs{}},
		{"hazard none", nil, Pairs{}},
		{"impedance \"50 ohm, 5 %\"", []string{"impedance 50 ohm, 5 %: not verified: no line of the board is in the text"}, Pairs{}},
		{"impedance none", nil, Pairs{}},
		{"impedance \"TBD\"", nil, Pairs{}},
	} {
		var got []string
		for _, a := range Answers(of("board b { "+c.says+" }"+wall), Grounds{func() Pairs { return c.pairs }, held}) {
			got = append(got, a.Line())
		}
		assert.Equal(t, c.want, got, c.says)
	}
	assert.Empty(t, Answers(of("outline circle 40 mm"), Grounds{Tolerances: held}), "no board statement")
}

// One that is short of a class names each wall.
func TestShortages(t *testing.T) {
	text := "board b { class 3 }\noutline rectangle 120 mm by 80 mm\nplating a { along west; net GND; copper 18 um }\nplating c { along east; net GND; copper 24.99 um }\nplating e { along north; net GND; copper 25 um least 15 um }\nplating idle { along east from 5 mm to 5 mm; net GND; copper 1 um }"
	a, ok := Of(Answers(of(text), Grounds{Tolerances: held}), "class")
	assert.True(t, ok)
	assert.Equal(t, Short, a.Verdict)
	assert.Equal(t, "board.class", a.Item())
	assert.Equal(t, "copper on the wall of plating a is 18 um; the class asks for at least 25 um on average; copper on the wall of plating c is 24.99 um; the class asks for at least 25 um on average; the thinnest copper on the wall of plating e is 15 um; the class asks for at least 20 um", a.Why)
	_, ok = Of(nil, "class")
	assert.False(t, ok)
}
