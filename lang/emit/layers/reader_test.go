package layers

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/geom"
)

// readPlainly reads files back without any tool from outside: only what
// the writers write, and nothing else is let pass. What the files mean by it is
// the concern of the independent readers; this one sees what changes.
func readPlainly(t *testing.T, files []bundle.File) map[string]reading {
	t.Helper()
	all, _ := readEach(t, files)
	return all
}

// readImages are the Gerber files among some, read plainly.
func readImages(t *testing.T, files []bundle.File) map[string]image {
	t.Helper()
	_, shown := readEach(t, files)
	return shown
}

func readEach(t *testing.T, files []bundle.File) (map[string]reading, map[string]image) {
	t.Helper()
	all, shown := map[string]reading{}, map[string]image{}
	for _, f := range files {
		r := &plainReader{t: t, reading: reading{Units: "mm", Tools: map[string]float64{}}, tooled: map[string]string{}}
		switch text := string(f.Data); {
		case strings.HasSuffix(f.Name, ".gbr"):
			r.gerber(text)
			shown[f.Name] = r.image
		case strings.HasSuffix(f.Name, ".xnc"):
			r.control(text)
		default:
			continue
		}
		all[f.Name] = r.reading
	}
	for name, i := range shown {
		r := all[name]
		r.Area, r.Inside = covered(i), covered(i, shown["profile.gbr"])
		if free, ok := shown[strings.Replace(name, "_add", "_free", 1)]; ok && strings.Contains(name, "_add") {
			r.Shared = covered(i, free)
		}
		if len(i.shapes(true)) == 0 { // else the extent of what is left is not known
			box := geom.EmptyBox()
			for _, l := range i.shapes(false) {
				box = box.Union(l.Box())
			}
			r.Bounds = []float64{box.Min.X / mm, box.Min.Y / mm, box.Max.X / mm, box.Max.Y / mm}
		}
		all[name] = r
	}
	return all, shown
}

// covered is the area that every one of some images shows, mm².
func covered(images ...image) float64 {
	var groups [][]*geom.Loop
	for _, i := range images {
		for _, o := range i.ops {
			groups = append(groups, o.loops)
		}
	}
	return geom.AreaCovered(groups, func(cover []int) bool {
		for _, i := range images {
			dark := false
			for k, n := range cover[:len(i.ops)] {
				if n > 0 {
					dark = !i.ops[k].clear
				}
			}
			if cover = cover[len(i.ops):]; !dark {
				return false
			}
		}
		return true
	}) / mm / mm
}

// plainReader is a file that is being read; lengths in nm.
type plainReader struct {
	t *testing.T
	reading
	image   image
	at      geom.Point
	mode    string // G01, G02, G03
	clear   bool
	contour []geom.Segment
	tool    string
	held    string            // attributes in force, as "function net"
	tooled  map[string]string // those that a tool was stated with
	drills  bool              // G05 is in force
	down    bool              // the bit is
}

var (
	gerberStep = regexp.MustCompile(`^X(-?\d+)Y(-?\d+)(?:I(-?\d+)J(-?\d+))?D0([12])\*$`)
	// A comment ends with its one asterisk, so that nothing of it is a command.
	gerberComment = regexp.MustCompile(`^G04 [^*%]*\*$`)
	attributeOf   = regexp.MustCompile(`^%?(TA\.AperFunction|TO\.N),(.*?)(?:\*%)?$`)
)

func (r *plainReader) gerber(text string) {
	r.mode, r.Second.Filetype = "", "gerber"
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if m := gerberStep.FindStringSubmatch(line); m != nil {
			to := geom.Point{X: r.number(m[1]), Y: r.number(m[2])}
			if m[5] == "1" {
				require.NotEmpty(r.t, r.mode, line)
				r.contour = append(r.contour, r.step(to, m[3], m[4], 1))
			}
			r.at = to
			continue
		}
		switch {
		case line == "%LPD*%", line == "%LPC*%":
			r.clear = line == "%LPC*%"
		case line == "G01*", line == "G02*", line == "G03*":
			r.mode = line[:3]
		case line == "G36*":
			r.contour = nil
		case line == "G37*":
			require.NotEmpty(r.t, r.contour)
			require.Equal(r.t, r.at, r.contour[0].A, "a contour that does not close")
			loop := geom.NewLoop(r.contour)
			r.Regions++
			if r.Labels = append(r.Labels, r.held); r.clear {
				require.Empty(r.t, r.held, "what is taken away is of no net")
				r.image.erase(loop)
			} else {
				r.image.dark("", board.Name{}, loop)
			}
		case strings.HasPrefix(line, "%T"):
			r.Second.Attributes = append(r.Second.Attributes, line)
			r.hold(line)
		case line == "%FSLAX46Y46*%":
			r.Second.Counts = map[string]any{"format": []any{4.0, 6.0}}
		case line == "%MOMM*%", line == "G75*", line == "M02*", gerberComment.MatchString(line):
		default:
			require.Fail(r.t, "not read", line)
		}
	}
	require.Empty(r.t, r.held, "attributes stay in force")
}

// hold takes an attribute of what follows, or ends them all.
func (r *plainReader) hold(line string) {
	if m := attributeOf.FindStringSubmatch(line); m != nil {
		r.held = strings.TrimSpace(r.held + " " + m[2])
	} else if strings.Trim(line, "%*") == "TD" {
		r.held = ""
	}
}

// step is what leads from where the reader is to a point; i and j, in units of
// so many nm, lead to an arc's centre.
func (r *plainReader) step(to geom.Point, i, j string, unit float64) geom.Segment {
	if r.mode == "G01" {
		require.Empty(r.t, i+j)
		return geom.Line(r.at, to)
	}
	c := geom.Point{X: r.at.X + unit*r.number(i), Y: r.at.Y + unit*r.number(j)}
	return geom.ArcAround(r.at, to, c, r.mode == "G02")
}

func (r *plainReader) number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(r.t, err)
	return v
}
