package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang/quantity"
)

// boundary is a board on which a limit's quantity has the value V, and the
// rule that must then speak up, or not.
type boundary struct {
	parameter string
	minimum   bool
	rule      string
	text      string // V stands for the value, an expression in brackets
}

const (
	bare  = "board b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\n"
	wall  = bare + "plating wall { along west; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm; copper 25 um; extend 0.5 mm }\n"
	inner = "stack { copper top 35 um; dielectric a 0.5 mm; copper mid 17 um; dielectric b 0.5 mm; copper bottom 35 um }\noutline rectangle 60 mm by 40 mm\nplating wall { along west; net GND }\n"
	// In er 4 at 1 GHz the wavelength is c/2 ns = 149.896229 mm exactly.
	waves = "board b { frequency 1 GHz }\nstack { copper top 35 um; dielectric a 1 mm permittivity 4; copper bottom 35 um }\noutline rectangle 60 mm by 40 mm\n"
)

// Every limit, on each side that it has, with each rule that reads it.
var boundaries = []boundary{
	{"wrap_land", true, "wrap_land", bare + "plating wall { along west; net GND; wrap top V; wrap bottom 2 mm }"},
	{"wrap_clearance", true, "wrap_clearance", wall + "feature f on top rectangle 1 mm by 1 mm at (0.8 mm + V + 0.5 mm, 20 mm) net V5"},
	{"wrap_clearance", true, "wrap_clearance", wall + "plane on bottom net V5 pullback 0.8 mm + V"},
	// Beside an arc and past the wrap's square end, whatever is nearest.
	{"wrap_clearance", true, "wrap_clearance", "outline circle 40 mm\nplating wall { along rim; net GND; wrap top 0.8 mm }\nfeature f on top circle 2 mm at (0 mm, 20 mm - 0.8 mm - V - 1 mm)"},
	{"wrap_clearance", true, "wrap_clearance", bare + "plating wall { along west from 0 mm to 10 mm; net GND; wrap top 4 mm }\nfeature f on top circle 1 mm at (2 mm, 10.5 mm + V)"},
	{"inner_clearance", true, "plane_short", inner + "plane on mid net V5 pullback V"},
	{"inner_clearance", true, "plane_short", inner + "feature f on mid circle 1 mm at (0.5 mm + V, 20 mm) net V5"},
	{"edge_clearance_inner", true, "tie_unstated", strings.Replace(inner, "net GND", "net GND; layers top bottom", 1) + "feature f on mid circle 1 mm at (0.5 mm + V, 20 mm) net GND"},
	{"edge_clearance_inner", true, "tie_unstated", strings.Replace(strings.Replace(inner, "net GND", "net GND; layers top bottom", 1), "along west", "along all", 1) + "plane on mid net GND pullback V"},
	{"extension", true, "extension_short", bare + "plating wall { along west; net GND; extend V }"},
	{"gap_width", true, "gap_narrow", wall + "gap g of wall on west from 10 mm to 10 mm + V"},
	{"gap_width", true, "net_conflict", bare + "plating a { along west from 0 mm to 10 mm; net A }\nplating b { along west from 10 mm + V to 30 mm; net B }"},
	{"gap_width", true, "castellation_on_plating", bare + "plating a { along west from 0 mm to 10 mm; net A }\ncastellation c on west at 10.5 mm + V hole 1 mm land 2 mm by 2 mm net B"},
	{"span_length", true, "span_short", wall + "gap g of wall on west from 5 mm to 10 mm\ngap h of wall on west from 10 mm + V to 30 mm"},
	{"plated_share", false, "plated_share", bare + "plating wall { along all; net GND }\ngap g of wall on south from 1 mm to 1 mm + (1 - V) * 200 mm"},
	{"board_thickness", true, "board_thickness", strings.Replace(wall, "thickness 1.6 mm", "thickness V", 1)},
	{"board_thickness", false, "board_thickness", strings.Replace(wall, "thickness 1.6 mm", "thickness V", 1)},
	{"tolerance_outline", true, "tolerance_fine", bare + "tolerance { outline V }"},
	{"tolerance_gaps", true, "tolerance_fine", bare + "tolerance { gaps V }"},
	{"tolerance_cutouts", true, "tolerance_fine", bare + "tolerance { cutouts V }"},
	{"tolerance_holes", true, "tolerance_fine", bare + "tolerance { holes V }"},
	{"tolerance_half_holes", true, "tolerance_fine", bare + "tolerance { half_holes V }"},
	{"tolerance_position", true, "tolerance_fine", bare + "tolerance { position V }"},
	{"tolerance_mask", true, "tolerance_fine", bare + "tolerance { mask V }"},
	{"router_bit", true, "corner_too_sharp", bare + "cutout c rectangle 20 mm by 20 mm corner V / 2 at (30 mm, 20 mm)"},
	{"router_bit", true, "corner_too_sharp", "outline { start (0 mm, 0 mm); line a to (60 mm, 0 mm); line b to (60 mm, 20 mm); line c to (30 mm + V / 2, 20 mm); arc d to (30 mm, 20 mm + V / 2) around (30 mm + V / 2, 20 mm + V / 2) clockwise; line e to (30 mm, 40 mm); line f to (0 mm, 40 mm); close g }"},
	{"slot_width", true, "slot_narrow", bare + "cutout c { start (20 mm, 10 mm); line a to (40 mm, 10 mm); line b to (40 mm, 10 mm + V); line d to (20 mm, 10 mm + V); close e }"},
	{"slot_width", true, "slot_narrow", bare + "cutout c slot 20 mm by V at (30 mm, 20 mm)"},
	{"plated_slot_width", true, "slot_narrow", bare + "cutout c slot 20 mm by V at (30 mm, 20 mm)\nplating wall { along c.rim; net GND }"},
	{"neck", true, "neck_narrow", bare + "cutout c circle 4 mm at (30 mm, 2 mm + V)"},
	{"neck", true, "neck_narrow", bare + "cutout c circle 4 mm at (20 mm, 20 mm)\ncutout d circle 4 mm at (24 mm + V, 20 mm)"},
	{"edge_clearance_outer", true, "edge_pullback", bare + "plane on top net GND pullback V"},
	{"edge_clearance_outer", true, "edge_pullback", bare + "feature f on bottom circle 1 mm at (30 mm, 0.5 mm + V) net A"},
	{"edge_clearance_inner", true, "edge_pullback", inner + "feature f on mid circle 1 mm at (30 mm, 39.5 mm - V) net A"},
	{"edge_clearance_inner", true, "edge_pullback", inner + "plane on mid net GND pullback V"},
	{"wall_copper", true, "wall_copper", bare + "plating wall { along west; net GND; copper V }"},
	{"launch_clearance", true, "launch_clearance", wall + "connector c on west at 20 mm { body 30 mm; pin top width 1 mm length 3 mm }\ngap g of wall on west at 20 mm width 1 mm + 2 * V for c"},
	{"tab_width_solid", true, "tab_width", bare + "tab t on south at 30 mm width V solid"},
	{"tab_width_solid", false, "tab_width", bare + "tab t on south at 30 mm width V solid"},
	{"tab_width_perforated", true, "tab_width", bare + "tab t on south at 30 mm width V perforated hole 0.5 mm pitch 0.8 mm"},
	{"tab_width_perforated", false, "tab_width", bare + "tab t on south at 30 mm width V perforated hole 0.5 mm pitch 0.8 mm"},
	{"tab_gap", true, "tab_gap_tight", wall + "gap g of wall on west at 20 mm width 3 mm + 2 * V\ntab t on west at 20 mm width 3 mm solid"},
	{"tab_spacing", false, "tab_spacing", "outline rectangle 200 mm by 40 mm\nplating wall { along west from 0 mm to 5 mm; net GND }\n" +
		"tab a on south at 10 mm width 3 mm solid\ntab b on south at 10 mm + V width 3 mm solid\ntab c on south at 150 mm width 3 mm solid\n" +
		"tab d on east at 20 mm width 3 mm solid\ntab e on north at 150 mm width 3 mm solid\ntab f on north at 90 mm width 3 mm solid\n" +
		"tab g on north at 30 mm width 3 mm solid\ntab h on west at 20 mm width 3 mm solid"},
	{"tab_corner", true, "tab_corner", bare + "tab t on south at 1.5 mm + V width 3 mm solid"},
	{"tab_corner", true, "tab_corner", bare + "tab t on north at 60 mm - 1.5 mm - V width 3 mm solid"},
	{"tab_gap", true, "tab_gap_tight", bare + "plating wall { along west from 0 mm to 10 mm; net GND }\ntab t on west at 11.5 mm + V width 3 mm solid"},
	{"tab_connector", true, "tab_near_connector", bare + "connector c on south at 20 mm { body 10 mm }\ntab t on south at 26.5 mm + V width 3 mm solid"},
	{"perforation_hole", true, "perforation_hole", bare + "tab t on south at 30 mm width 5 mm perforated hole V pitch 2 mm"},
	{"perforation_web", true, "perforation_web", bare + "tab t on south at 30 mm width 5 mm perforated hole 0.5 mm pitch 0.5 mm + V"},
	{"castellation_hole", true, "castellation_hole", bare + "castellation c on east at 20 mm hole V land 5 mm by 5 mm"},
	{"castellation_spacing", true, "castellation_spacing", bare + "castellation c on east from 10 mm to 30 mm pitch 1 mm + V hole 1 mm land 5 mm by 5 mm"},
	{"castellation_ring", true, "castellation_land", bare + "castellation c on east at 20 mm hole 1 mm land 1 mm + 2 * V by 5 mm"},
	{"castellation_ring", true, "castellation_land", bare + "castellation c on east at 20 mm hole 1 mm land 5 mm by 0.5 mm + V"},
	{"castellation_corner", true, "castellation_corner", bare + "castellation c on east at 0.5 mm + V hole 1 mm land 5 mm by 5 mm"},
	{"castellation_spacing", true, "castellation_spacing", bare + "castellation c on east at 10 mm hole 1 mm land 5 mm by 5 mm\ncastellation d on east at 11 mm + V hole 1 mm land 5 mm by 5 mm"},
	{"castellation_corner", true, "castellation_corner", bare + "castellation c on east at 40 mm - 0.5 mm - V hole 1 mm land 5 mm by 5 mm"},
	{"mask_margin", true, "relief_short", bare + "castellation c on east at 20 mm hole 1 mm land 2 mm by 1.6 mm\nrelief r over c on bottom reach 1.6 mm + V"},
	{"mask_margin", true, "relief_short", wall + "relief r over wall on top bottom reach 0.8 mm + V"},
	{"mask_web", true, "mask_web", wall + "relief r over wall on top bottom reach 1 mm\nfeature f on top rectangle 1 mm by 1 mm at (1 mm + V + 0.075 mm + 0.5 mm, 20 mm) net A"},
	{"mask_margin", true, "mask_web", wall + "relief r over wall on top bottom reach 1 mm\nfeature f on top circle 1 mm at (1 mm + V + 0.1 mm + 0.5 mm, 20 mm) net A"},
	{"mask_web", true, "mask_web", bare + "castellation c on east from 10 mm to 30 mm pitch 1.8 mm + V hole 1 mm land 1.6 mm by 2 mm\nrelief r over c on top reach 3 mm margin 0.1 mm"},
	{"mask_web", true, "mask_web", wall + "gap g of wall on west from 10 mm to 12 mm + V\nrelief r over wall on top bottom reach 1 mm margin 1 mm"},
	{"fence_inset", true, "fence_inset", wall + "fence f along west inset 0.15 mm + V pitch 3 mm hole 0.3 mm net GND"},
	{"fence_inset", true, "fence_inset", "outline circle 40 mm\nfence f along rim from 10 mm to 20 mm inset 0.15 mm + V pitch 3 mm hole 0.3 mm"},
	{"copper_clearance", true, "copper_clearance", bare + "feature f on top circle 1 mm at (20 mm, 20 mm) net A\nfeature g on top circle 1 mm at (21 mm + V, 20 mm) net B"},
	{"copper_clearance", true, "copper_clearance", bare + "feature f on top rectangle 2 mm by 2 mm at (20 mm, 20 mm) net A\nhole h diameter 1 mm at (21 mm + 0.6 * (0.7 mm + V), 21 mm + 0.8 * (0.7 mm + V)) plated land 1.4 mm net B"},
	{"copper_clearance", true, "copper_clearance", bare + "castellation c on east at 10 mm hole 0.6 mm land 2 mm by 2 mm net A\ncastellation d on east at 12 mm + V hole 0.6 mm land 2 mm by 2 mm net B"},
	{"copper_clearance", true, "copper_clearance", bare + "connector c on south at 20 mm { body 1 mm; pin top width 1 mm length 3 mm; net A }\nfence f along south from 20 mm to 21 mm inset 3.15 mm + V pitch 5 mm hole 0.3 mm net B"},
	{"hole_web", true, "hole_web", bare + "hole h diameter 1 mm at (20 mm, 20 mm) unplated\nhole i diameter 2 mm at (20 mm + 0.6 * (1.5 mm + V), 20 mm + 0.8 * (1.5 mm + V)) plated net A"},
	{"hole_web", true, "hole_web", bare + "fence f along south inset 2 mm pitch 0.3 mm + V hole 0.3 mm net A"},
	{"hole_web", true, "hole_web", bare + "castellation c on south at 20 mm hole 1 mm land 1.2 mm by 1 mm\nhole h diameter 1 mm at (20 mm, 1 mm + V) unplated"},
	{"hole_web", true, "hole_web", bare + "tab t on south at 20 mm width 3 mm perforated hole 0.5 mm pitch 9 mm\nhole h diameter 1 mm at (20 mm, 0.75 mm + V) unplated"},
	{"hole_web", true, "hole_web", bare + "tab t on south at 20 mm width 3 mm perforated hole 0.5 mm pitch 9 mm\ncutout c circle 4 mm at (20 mm, 2.25 mm + V)"},
	{"hole_edge", true, "hole_edge", bare + "hole h diameter 1 mm at (20 mm, 0.5 mm + V) unplated"},
	{"hole_edge", true, "hole_edge", wall + "hole h diameter 1 mm at (0.5 mm + V, 20 mm) plated net GND"},
	{"hole_edge", true, "hole_edge", bare + "cutout c circle 4 mm at (20 mm, 20 mm)\nhole h diameter 1 mm at (20 mm + 0.6 * (2.5 mm + V), 20 mm + 0.8 * (2.5 mm + V)) unplated"},
	{"inner_clearance", true, "ties_meet", strings.Replace(inner, "net GND", "net GND; layers mid", 1) + "plating bore { along c.rim; net V5; layers mid }\ncutout c circle 4 mm at (2.6 mm + V, 20 mm)"},
	{"inner_clearance", true, "wall_short", bare + "plating wall { along west; net GND }\nhole h diameter 1 mm at (0.5 mm + V, 20 mm) plated net V5"},
	{"inner_clearance", true, "wall_short", inner + "plating bore { along c.rim; net V5 }\ncutout c circle 4 mm at (2 mm + V, 20 mm)"},
	{"inner_clearance", true, "wall_short", strings.Replace(inner, "net GND", "net GND; layers mid", 1) + "hole h diameter 1 mm at (0.8 mm + V, 20 mm) plated net V5"},
	{"inner_clearance", true, "plane_short", strings.Replace(inner, "net GND", "net GND; layers mid", 1) + "plane on mid net V5 pullback 0.3 mm + V"},
	{"body_clearance", true, "body_clearance", bare + "connector c on south at 20 mm { body 4 mm }\nconnector d on south at 24 mm + V { body 4 mm }"},
	{"body_clearance", true, "body_clearance", bare + "connector c on south at 3 mm { body 4 mm reach 2 mm }\nconnector d on west at 4 mm + V { body 4 mm reach 3 mm }"},
	{"router_bit", true, "edge_standing", "outline { start (0 mm, 0 mm); line s to (20 mm, 0 mm); line a to (20 mm, 4 mm); line b to (20 mm + V, 4 mm); line c to (20 mm + V, 0 mm); line d to (50 mm, 0 mm); line e to (50 mm, 30 mm); line n to (0 mm, 30 mm); close w }"},
	{"router_bit", true, "edge_shared", bare + "cutout c slot 8 mm by 0.1 mm + V at (30 mm, 20 mm)\nplating side { along c.rim from 1 mm to 6 mm; net GND }"},
	{"router_bit", true, "tab_short", bare + "tab t on south at 20 mm width 30 mm solid length V"},
	{"router_bit", true, "tab_waist", bare + "tab t on south at 20 mm width V / 0.6 solid\ntab u on south at 40 mm width 30 mm solid"},
	{"router_bit", true, "tab_faces_board", bare + "cutout c slot 20 mm by 3 mm + V at (30 mm, 20 mm)\ntab t on c.rim at 5 mm width 3 mm solid"},
	{"router_bit", true, "tabs_crowded", bare + "tab t on south at 20 mm width 3 mm solid\ntab u on south at 23 mm + V width 3 mm solid"},
	{"tab_gap", true, "tab_gap_tight", bare + "castellation c on south at 20 mm hole 0.6 mm land 2 mm by 2 mm\ntab t on south at 22.5 mm + V width 3 mm solid"},
	{"edge_clearance_outer", true, "edge_pullback", bare + "hole h diameter 1 mm at (20 mm, 20 mm) unplated\nfeature f on top circle 1 mm at (20 mm + 0.6 * (1 mm + V), 20 mm + 0.8 * (1 mm + V)) net A"},
	{"edge_clearance_outer", true, "edge_pullback", bare + "cutout c circle 4 mm at (20 mm, 20 mm)\nfeature f on top circle 1 mm at (22.5 mm + V, 20 mm) net A"},
	{"edge_clearance_outer", true, "edge_pullback", bare + "tab t on south at 20 mm width 3 mm perforated hole 0.5 mm pitch 9 mm\nfeature f on top circle 1 mm at (20 mm, 0.75 mm + V) net A"},
	{"edge_clearance_inner", true, "edge_pullback", strings.Replace(inner, "along west; net GND", "along west from 5 mm to 35 mm; net GND; layers mid", 1) + "tab t on west at 20 mm width 0.5 mm + 2 * V perforated hole 0.5 mm pitch 9 mm premetallised"},
	{"wrap_clearance", true, "wrap_clearance", wall + "hole h diameter 1 mm at (1.5 mm + V, 20 mm) plated land 1.4 mm net V5"},
	{"mask_web", true, "mask_web", bare + "feature f on top circle 1 mm at (20 mm, 20 mm) net A\nhole h diameter 0.6 mm at (21.15 mm + V, 20 mm) plated land 1 mm net A"},
	{"fence_inset", true, "fence_inset", bare + "fence f along south inset 0.15 mm + V pitch 3 mm hole 0.3 mm"},
	{"opening_share", false, "fence_pitch", waves + "tolerance { position 1 nm }\nfence f along south inset 2 mm pitch 149.896229 mm * V - 2 nm hole 0.3 mm"},
	{"tolerance_position", true, "fence_pitch", waves + "fence f along south inset 2 mm pitch 149.896229 mm * 5 % - 2 * V hole 0.3 mm"},
	{"opening_share", false, "opening_long", waves + "tolerance { gaps 1 nm }\nplating wall { along west; net GND }\ngap g of wall on west from 10 mm to 10 mm + 149.896229 mm * V - 2 nm"},
	{"tolerance_gaps", true, "opening_long", waves + "plating wall { along west; net GND }\ngap g of wall on west from 10 mm to 10 mm + 149.896229 mm * 5 % - 2 * V"},
	// At 20 dB an opening is a twentieth of the wavelength long.
	{"tolerance_gaps", true, "shielding_short", strings.Replace(waves, "frequency 1 GHz", "frequency 1 GHz; shielding 20 dB", 1) + "plating wall { along all; net GND }\ngap g of wall on west from 10 mm to 10 mm + 149.896229 mm * 5 % - 2 * V"},
}

// Counts and moments are not written as one value in a text; see below.
var elsewhere = map[string]bool{"tolerance_thickness": true, "tab_count": true, "tab_snap_moment": true}

// leftTo are limits that a rule reads to leave what does not meet them to another
// rule, as its texts show, and those that TestFlanks tries.
var leftTo = map[string]bool{
	"edge_standing slot_width": true, "edge_standing plated_slot_width": true, "tab_flank tab_gap": true, "tab_flank router_bit": true,
}

// Half of the bit times the sine of 15 degrees is bare beside a plated edge, to a
// nanometre, for shops with other bits.
func TestFlanks(t *testing.T) {
	shop := "fabricator shop { limit router_bit minimum %g mm; limit tab_gap minimum 0.01 mm }\n"
	for _, bit := range []float64{0.5, 0.8, 1, 1.1} {
		flank := fmt.Sprintf(shop, bit) + bare + "plating wall { along west from 0 mm to 10 mm; net GND }\ntab t on west at 12 mm + %.6f mm width 4 mm solid"
		need := bit / 2 * math.Sin(math.Pi/12)
		assert.False(t, firesOn(fmt.Sprintf(flank, math.Ceil(need*1e6)/1e6), "tab_flank"), bit)
		assert.True(t, firesOn(fmt.Sprintf(flank, math.Floor(need*1e6)/1e6), "tab_flank"), bit)
	}
}

func firesOn(text, rule string) bool {
	for _, f := range All().Check(analyze(text), checks.Options{Only: []*checks.Rule{All().Named(rule)}}).Findings {
		if f.Rule == rule {
			return true
		}
	}
	return false
}

// limitsOf are the values that a limit is tried with: the built-in one with no
// fabricator, and others that a fabricator states, in millimetres and mils.
func limitsOf(t testing.TB, p *checks.Parameter, minimum bool) (values []string) {
	text := p.Minimum
	if !minimum {
		text = p.Maximum
	}
	values = []string{text}
	if p.Dim != quantity.Length {
		return append(values, map[string]string{"plated_share": "75 %", "opening_share": "4 %"}[p.Name])
	}
	q := asWritten(t, text)
	mm := q.In(quantity.Millimetre)
	return append(values, fmt.Sprintf("%.6f mm", mm*1.3), fmt.Sprintf("%.2f mil", mm*1.1/0.0254))
}

// A limit that is met exactly is met; a nanometre worse is not, nor is a share
// that is worse by a millionth.
func TestLimitsMetExactly(t *testing.T) {
	covered := map[string]bool{}
	checked := 0
	for _, b := range boundaries {
		p, ok := checks.ParameterNamed(b.parameter)
		if !assert.True(t, ok, b.parameter) {
			continue
		}
		covered[fmt.Sprint(b.parameter, b.minimum)] = true
		side := "maximum"
		worse := "(%s + 1 nm)"
		if b.minimum {
			side, worse = "minimum", "(%s - 1 nm)"
		}
		if p.Dim == quantity.None {
			worse = "(%s * 1.000001)"
		}
		for i, value := range limitsOf(t, p, b.minimum) {
			shop := ""
			if i > 0 {
				shop = fmt.Sprintf("fabricator shop { limit %s %s %s }\n", b.parameter, side, value)
			}
			fill := func(v string) string { return shop + fillIn(b.text, v) }
			assert.False(t, firesOn(fill("("+value+")"), b.rule), "%s %s %s, met exactly: %s\n%s", b.parameter, side, value, b.rule, fill(value))
			assert.True(t, firesOn(fill(fmt.Sprintf(worse, value)), b.rule), "%s %s %s, just not met: %s\n%s", b.parameter, side, value, b.rule, fill(value))
			checked += 2
		}
	}
	for _, p := range checks.Parameters() {
		for _, minimum := range []bool{true, false} {
			has := p.Minimum
			if !minimum {
				has = p.Maximum
			}
			assert.True(t, has == "" || elsewhere[p.Name] || covered[fmt.Sprint(p.Name, minimum)], "%s is not in the table", p.Name)
		}
	}
	t.Logf("%d boundary checks", checked)
}

// fillIn puts a value where a lone V stands.
func fillIn(text, value string) string {
	var b strings.Builder
	isWord := func(c byte) bool { return c == '_' || c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z' }
	for i := 0; i < len(text); i++ {
		if text[i] == 'V' && !isWord(text[i-1]) && (i+1 == len(text) || !isWord(text[i+1])) {
			b.WriteString(value)
			continue
		}
		b.WriteByte(text[i])
	}
	return b.String()
}

// Tabs are counted; the moment to snap one is computed: 689·b·h²/6 N·mm is
// 1653.6 for b = 2.5 mm, h = 2.4 mm (section modulus, by hand).
func TestCountsAndMomentsMetExactly(t *testing.T) {
	tabs := func(n int) string {
		s := bare
		for i := range n {
			s += fmt.Sprintf("tab t%d on south at %d mm width 3 mm solid\n", i, 5+5*i)
		}
		return s
	}
	assert.False(t, firesOn(tabs(3), "tab_count"))
	assert.True(t, firesOn(tabs(2), "tab_count"))
	for stated, fires := range map[string]bool{"10 %": false, "9.9999999 %": true, "0.16 mm": false, "0.15999999 mm": true} {
		assert.Equal(t, fires, firesOn(bare+"tolerance { thickness "+stated+" }", "tolerance_fine"), stated)
	}
	five := "fabricator shop { limit tab_count minimum 5 }\n"
	assert.False(t, firesOn(five+tabs(5), "tab_count"))
	assert.True(t, firesOn(five+tabs(4), "tab_count"))

	snap := "board b { thickness 2.4 mm }\noutline rectangle 60 mm by 40 mm\ntab t on south at 30 mm width 5 mm perforated hole 0.5 mm pitch 1 mm\n"
	assert.False(t, firesOn("fabricator shop { limit tab_snap_moment maximum 1653.6 Nmm }\n"+snap, "tab_stubborn"))
	assert.True(t, firesOn("fabricator shop { limit tab_snap_moment maximum 1653.5999 Nmm }\n"+snap, "tab_stubborn"))
	// The built-in 1000 N·mm lie between two nanometres of net width at 2 mm:
	// 6000 / (689 · 4) = 2.1770682 mm.
	thick := "board b { thickness 2 mm }\noutline rectangle 60 mm by 40 mm\ntab t on south at 30 mm width 7 * 0.5 mm + %s perforated hole 0.5 mm pitch 0.8 mm\n"
	assert.False(t, firesOn(fmt.Sprintf(thick, "2.177068 mm"), "tab_stubborn"))
	assert.True(t, firesOn(fmt.Sprintf(thick, "2.177069 mm"), "tab_stubborn"))
}

// Tabs are as far apart as the board's thickness and the plating between them let
// them be: each row of the table, met exactly and a nanometre worse, on a board just
// as thick as the row says and on one a micrometre thinner, which is of the row before.
// Numbers: industry mailing list 1997, a fabricator's column 2022, common practice.
func TestTabSpacingByThickness(t *testing.T) {
	const board = "board b { thickness %s }\noutline rectangle 200 mm by 5 mm\nplating wall { along south from 0 mm to %s; net GND }\n" +
		"tab a on south at 10 mm width 2 mm solid\ntab b on south at 10 mm + %s width 2 mm solid\n"
	for _, c := range []struct{ thickness, plated, plain string }{
		{"0.3 mm", "25 mm", "38 mm"}, {"0.51 mm", "25 mm", "38 mm"}, {"0.789 mm", "25 mm", "38 mm"}, {"0.79 mm", "40 mm", "63 mm"}, {"1.519 mm", "40 mm", "63 mm"},
		{"1.52 mm", "50.8 mm", "63 mm"}, {"1.569 mm", "50.8 mm", "63 mm"}, {"1.57 mm", "50.8 mm", "76 mm"}, {"5.08 mm", "50.8 mm", "76 mm"},
	} {
		for upTo, most := range map[string]string{"9 mm": c.plain, "11 mm": c.plated} {
			fires := func(d, shop string) bool {
				for _, f := range All().Check(analyze(shop+fmt.Sprintf(board, c.thickness, upTo, d)), checks.Options{Only: []*checks.Rule{tabSpacing}}).Findings {
					if slices.Equal(f.Items, []string{"a", "b"}) {
						return true
					}
				}
				return false
			}
			assert.False(t, fires(most, ""), "%v plated up to %s", c, upTo)
			assert.True(t, fires("("+most+" + 1 nm)", ""), "%v plated up to %s", c, upTo)
			shop := "fabricator shop { limit tab_spacing maximum 60 mm }\n"
			assert.False(t, fires("60 mm", shop), "a shop's own word holds for all")
			assert.True(t, fires("60.000001 mm", shop))
		}
	}
}

// A nanometre of 200 mm is five billionths of the share: it counts.
func TestAShareIsMetToTheNanometre(t *testing.T) {
	board := bare + "plating wall { along all; net GND }\ngap g of wall on south from 1 mm to %s\n"
	assert.False(t, firesOn(fmt.Sprintf(board, "14.2 mm"), "plated_share"), "186.8 of 200 mm are 93.4 %%")
	assert.True(t, firesOn(fmt.Sprintf(board, "14.199999 mm"), "plated_share"))
}

// What a class asks for is a limit too, and so is what a connector asks for.
func TestLimitsOfTheBoardItselfMetExactly(t *testing.T) {
	class := "fabricator shop { limit wall_copper minimum 10 um }\nboard b { class %s }\noutline rectangle 60 mm by 40 mm\nplating wall { along west; net GND; copper %s }\n"
	for _, c := range [][3]string{{"1", "20 um", "19.999 um"}, {"2", "20 um", "19.999 um"}, {"3", "25 um", "24.999 um"}} {
		assert.False(t, firesOn(fmt.Sprintf(class, c[0], c[1]), "wall_copper"), c)
		assert.True(t, firesOn(fmt.Sprintf(class, c[0], c[2]), "wall_copper"), c)
	}
	own := wall + "connector c on west at 20 mm { body 30 mm; pin top width 1 mm length 3 mm; clearance 1 mm }\ngap g of wall on west at 20 mm width %s for c\n"
	assert.False(t, firesOn(fmt.Sprintf(own, "3 mm"), "launch_clearance"))
	assert.True(t, firesOn(fmt.Sprintf(own, "2.999998 mm"), "launch_clearance"))
}

// Every limit that a rule says it reads is tried with that rule.
func TestEveryLimitARuleReadsIsTried(t *testing.T) {
	for _, r := range All() {
		for _, l := range r.Limits {
			tried := slices.ContainsFunc(boundaries, func(b boundary) bool { return b.rule == r.Name && b.parameter == l })
			assert.True(t, tried || elsewhere[l] || leftTo[r.Name+" "+l], "%s reads %s", r.Name, l)
		}
	}
}
