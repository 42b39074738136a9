package layers

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/geom"
)

// What XNC has, and no more: revision 2019.02.16, of which the title and the contents
// were at hand, the rest from memory.
var (
	xncTool = regexp.MustCompile(`^T0?(\d+)(?:C(\d+\.\d+))?$`)
	xncStep = regexp.MustCompile(`^(G0[0-3])?X(-?\d+\.\d+)Y(-?\d+\.\d+)(?:A(\d+\.\d+))?$`)
	xncAway = regexp.MustCompile(`^(METRIC|INCH),|^(G9|G4|G8|R\d|M0|ICI|VER|FMT|F\d|S\d)|[IJ]-?\d`)
)

// control reads a numerical control file: a header from M48 to %, in which the unit
// comes before the tools; then drills after G05, or paths; M30 at the end.
func (r *plainReader) control(text string) {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	require.Equal(r.t, "M48", lines[0])
	require.Equal(r.t, "M30", lines[len(lines)-1])
	header, unit := true, false
	for _, line := range lines[1 : len(lines)-1] {
		for _, c := range line {
			require.True(r.t, ' ' <= c && c <= '~', "not ASCII: %q", line)
		}
		if remark, ok := strings.CutPrefix(line, "; "); ok {
			r.remark(remark)
			continue
		}
		if m := xncTool.FindStringSubmatch(line); m != nil {
			require.Equal(r.t, header, m[2] != "", "tools are stated in the header and chosen after it: %s", line)
			if r.tool = m[1]; header {
				require.True(r.t, unit, "a tool before its unit")
				require.NotContains(r.t, r.Tools, r.tool, "stated twice")
				r.Tools[r.tool], r.tooled[r.tool] = r.number(m[2]), r.held
			}
			require.Contains(r.t, r.Tools, r.tool, "no such tool")
			continue
		}
		switch {
		case header && line == "METRIC":
			unit = true
		case header && line == "%":
			header, r.tool = false, ""
		case !header && line == "G05":
			r.drills = true
		default:
			require.False(r.t, header, "not of a header: %s", line)
			r.travel(line)
		}
	}
	require.False(r.t, header || !unit, "no header that ends, or no unit")
	require.False(r.t, r.down, "the bit is left down")
	require.Empty(r.t, r.held, "attributes stay in force")
}

// remark takes the attribute of a comment.
func (r *plainReader) remark(text string) {
	attribute, ok := strings.CutPrefix(text, "#@! ")
	if !ok {
		return
	}
	r.Second.Attributes = append(r.Second.Attributes, attribute)
	require.False(r.t, strings.HasPrefix(attribute, "TO.") && r.held != "", "one net on another: %s", attribute)
	r.hold(attribute)
}

// travel reads what stands after the header: hits and paths.
func (r *plainReader) travel(line string) {
	require.NotEmpty(r.t, r.tool, "before a tool was chosen: %s", line)
	switch line {
	case "M15", "M16":
		r.down = line == "M15"
		return
	}
	m := xncStep.FindStringSubmatch(line)
	require.NotNil(r.t, m, "not read: %s", line)
	to := geom.Point{X: mm * r.number(m[2]), Y: mm * r.number(m[3])}
	switch r.mode = m[1]; r.mode {
	case "":
		require.True(r.t, r.drills, "a hit before G05")
		r.Pads = append(r.Pads, [3]any{r.tool, r.number(m[2]), r.number(m[3])})
		r.Labels = append(r.Labels, strings.TrimSpace(r.tooled[r.tool]+" "+r.held))
	case "G00":
		require.False(r.t, r.down, "moved across the board with the bit down")
	default:
		require.True(r.t, r.down, "a cut without a bit")
		require.Equal(r.t, r.mode == "G01", m[4] == "", "an arc has its radius, a line none")
		g := geom.Line(r.at, to)
		if r.mode != "G01" {
			g = r.turned(to, mm*r.number(m[4]))
		}
		r.Length += g.Length() / mm
	}
	r.at = to
}

// turned is the arc of a radius to a point, at most half a turn.
func (r *plainReader) turned(to geom.Point, radius float64) geom.Segment {
	chord := to.Sub(r.at)
	half := math.Hypot(chord.X, chord.Y) / 2
	require.LessOrEqual(r.t, half, radius+2, "an arc that does not reach")
	rise := math.Sqrt(math.Max(0, radius*radius-half*half))
	left := chord.Left().Scale(1 / math.Hypot(chord.X, chord.Y))
	if r.mode == "G02" { // clockwise, its centre to the right
		left = left.Scale(-1)
	}
	return geom.ArcAround(r.at, to, r.at.Add(chord.Scale(0.5)).Add(left.Scale(rise)), r.mode == "G02")
}

// A drill file by the letter, all of it.
func TestDrillFileByTheLetter(t *testing.T) {
	files, _ := made(t, plain+`castellation c on west at 15 mm hole 0.6 mm land 1 mm by 1 mm net "A,1"
hole h diameter 3.2 mm at (4 mm, 4 mm) plated
hole g diameter 3.2 mm at (36 mm, 4 mm) plated net G
hole f diameter 3.2 mm at (36 mm, 26 mm) plated net G
hole e diameter 3.2 mm at (4 mm, 26 mm) plated`, usual)
	want := `M48
; #@! TF.GenerationSoftware,hemline,hemline,0.0.0
; #@! TF.ProjectId,b,` + guid("b") + `,none
; #@! TF.Part,Single
; #@! TF.FileFunction,Plated,1,2,PTH,Drill
; #@! TF.SameCoordinates,SAME
; holes to drill before plating: holes; half holes, with their middles on the profile; finished diameters
; seen from the top; (0, 0) is the point (0 mm, 0 mm) of the board's text
METRIC
; #@! TA.AperFunction,CastellatedDrill
; half holes
T01C0.6
; #@! TD
; #@! TA.AperFunction,MechanicalDrill
; mounting and tooling
T02C3.2
; #@! TD
%
G05
T01
; #@! TO.N,A\u002C1
X0.0Y15.0
; #@! TD
T02
X4.0Y4.0
; #@! TO.N,G
X36.0Y4.0
X36.0Y26.0
; #@! TD
X4.0Y26.0
M30
`
	got := regexp.MustCompile(`(SameCoordinates,)\S+`).ReplaceAllString(file(t, files, "drill_plated.xnc"), "${1}SAME")
	assert.Equal(t, want, got)
}

// No file has what XNC has not, an older dialect's zero options, compensation and
// centres of arcs; the paths of the routs are held to it with the paths themselves.
func TestNothingThatXNCHasNot(t *testing.T) {
	for _, name := range []string{"receiver", "beacon_module", "ground_strip", "mast_ring"} {
		files, err := Build(example(t, name), usual)
		require.NoError(t, err)
		for _, f := range files {
			if !strings.HasSuffix(f.Name, ".xnc") {
				continue
			}
			rout := strings.HasPrefix(f.Name, "rout")
			assert.Equal(t, !rout, strings.Contains(string(f.Data), "\nG05\n"), f.Name)
			for line := range strings.Lines(string(f.Data)) {
				if !strings.HasPrefix(line, ";") {
					assert.NotRegexp(t, xncAway, line, f.Name)
				}
			}
		}
	}
}
