package plot

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/sfnt"

	"hemline/lang/emit/sheet"
)

// two sheets with all that a sheet may hold.
func two() []*sheet.Sheet {
	a3, _ := sheet.FormatNamed("A3")
	var list []*sheet.Sheet
	for i := range 2 {
		s := &sheet.Sheet{Format: a3, Title: fmt.Sprintf("Sheet %d", i+1)}
		s.Frame()
		s.Add(sheet.Shape{ID: "ring", Line: sheet.Thick, Fill: sheet.Light, Paths: []sheet.Path{sheet.Circle(sheet.Point{X: 100, Y: 100}, 30)}},
			sheet.Strokes(sheet.ChainThick, sheet.Point{X: 50, Y: 50}, sheet.Point{X: 150, Y: 50}))
		s.Write(sheet.Text{At: sheet.Point{X: 60, Y: 60}, S: fmt.Sprintf("ordinate %d: ⌀12.5 ± 0.1 µm², <&>", i+1), Height: sheet.Small})
		list = append(list, s)
	}
	return list
}

// tool runs an independent reader on a file.
func tool(t *testing.T, data []byte, name, file string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "%s is needed where HEMLINE_CI is set", name)
		t.Skip(name + " is not installed")
	}
	at := filepath.Join(t.TempDir(), file)
	require.NoError(t, os.WriteFile(at, data, 0o644))
	for i := range args {
		args[i] = strings.ReplaceAll(args[i], "FILE", at)
	}
	var out, failed bytes.Buffer
	cmd := exec.Command(path, args...)
	cmd.Stdout, cmd.Stderr = &out, &failed
	require.NoError(t, cmd.Run(), failed.String())
	return out.String()
}

func TestPDFIsRead(t *testing.T) {
	data, err := PDF(two(), About{Title: "Trial board", Date: time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC)})
	require.NoError(t, err)
	info := tool(t, data, "pdfinfo", "a.pdf", "-isodates", "FILE")
	assert.Regexp(t, `Title: +Trial board`, info)
	assert.Regexp(t, `Pages: +2\n`, info)
	assert.Regexp(t, `Page size: +1190\.55 x 841\.89 pts \(A3\)`, info)
	assert.Regexp(t, `CreationDate: +2026-03-04T00:00:00`, info)
	assert.Contains(t, string(data), "/CreationDate (D:20260304000000Z)", "in universal time")
	assert.NotContains(t, info, "ModDate")
	assert.Regexp(t, `Producer: +hemline\n`, info)
	assert.Regexp(t, `Creator: +hemline\n`, info)
	text := tool(t, data, "pdftotext", "a.pdf", "FILE", "-")
	for i := range 2 {
		assert.Contains(t, text, fmt.Sprintf("ordinate %d: ⌀12.5 ± 0.1 µm², <&>", i+1))
	}
	tool(t, data, "qpdf", "a.pdf", "--check", "FILE")
	tool(t, data, "pdftoppm", "a.pdf", "-r", "20", "FILE", filepath.Join(t.TempDir(), "page"))
}

// A sign for two letters at once would keep a word from being found.
func TestWordsCanBeFound(t *testing.T) {
	const words = "final profile, office: Ta AV fi fl ffi"
	s := &sheet.Sheet{Format: sheet.Formats[0]}
	for i, align := range []sheet.Align{sheet.Left, sheet.Centre, sheet.Right} {
		for _, up := range []bool{false, true} {
			at := sheet.Point{X: 100, Y: 20 + float64(i)*20}
			if up {
				at = sheet.Point{X: 60 + float64(i)*40, Y: 200}
			}
			s.Write(sheet.Text{At: at, S: words, Height: 3.5, Align: align, Up: up})
		}
	}
	data, err := PDF([]*sheet.Sheet{s}, About{})
	require.NoError(t, err)
	text := tool(t, data, "pdftotext", "a.pdf", "FILE", "-")
	assert.Equal(t, 6, strings.Count(text, words), text)
}

// Texts stand on a page where the sheet says, whichever end is at their place.
func TestTextsStandWhereTheSheetSays(t *testing.T) {
	s := lettered()
	data, err := PDF([]*sheet.Sheet{s}, About{})
	require.NoError(t, err)
	page := tool(t, data, "pdftotext", "a.pdf", "-bbox", "FILE", "-")
	const mm = 25.4 / 72
	for _, x := range s.Texts {
		found := regexp.MustCompile(`xMin="(.*)" yMin="(.*)" xMax="(.*)" yMax="(.*)">` + x.S + `<`).FindStringSubmatch(page)
		require.NotNil(t, found, "%s\n%s", x.S, page)
		var at [4]float64
		for i := range at {
			v, err := strconv.ParseFloat(found[i+1], 64)
			require.NoError(t, err)
			at[i] = v * mm
		}
		// Across the text the reader takes the font's height, along it the letters' advances.
		from, to, want := at[0], at[2], x.At.X
		if x.Up {
			from, to, want = s.Format.H-at[3], s.Format.H-at[1], x.At.Y
		}
		switch x.Align {
		case sheet.Centre:
			want -= x.Width() / 2
		case sheet.Right:
			want -= x.Width()
		}
		// The library rounds advances to a thousandth of the size, and sizes to a hundredth of a point.
		assert.InDelta(t, want, from, 0.03, x.S)
		assert.InDelta(t, want+x.Width(), to, 0.05, x.S)
	}
}

// Each page has its sheet's size.
func TestPagesHaveTheirSheetsSizes(t *testing.T) {
	var list []*sheet.Sheet
	for _, f := range sheet.Formats {
		s := &sheet.Sheet{Format: f}
		s.Frame()
		list = append(list, s)
	}
	data, err := PDF(list, About{})
	require.NoError(t, err)
	info := tool(t, data, "pdfinfo", "a.pdf", "-f", "1", "-l", "99", "FILE")
	for i, f := range sheet.Formats {
		const point = 25.4 / 72
		found := regexp.MustCompile(fmt.Sprintf(`Page +%d size: +(\S+) x (\S+) pts`, i+1)).FindStringSubmatch(info)
		require.NotNil(t, found, info)
		for k, want := range []float64{f.W, f.H} {
			v, err := strconv.ParseFloat(found[k+1], 64)
			require.NoError(t, err)
			assert.InDelta(t, want, v*point, 0.005, f.Name)
		}
	}
	tool(t, data, "qpdf", "a.pdf", "--check", "FILE")
}

// Characters that the lettering or the library has not are no reason to fail,
// and a file's title may have any.
func TestAnyCharacter(t *testing.T) {
	s := &sheet.Sheet{Format: sheet.Formats[0]}
	s.Write(sheet.Text{At: sheet.Point{X: 50, Y: 50}, S: "from 𝄞 to \U0010FFFF, (\\) and 漢 end", Height: 3.5},
		sheet.Text{At: sheet.Point{X: 50, Y: 60}, Height: 3.5})
	data, err := PDF([]*sheet.Sheet{s}, About{Title: "Grüße (𝄞) \\ 漢"})
	require.NoError(t, err)
	_, err = PNG(s, 50)
	require.NoError(t, err)
	tool(t, data, "qpdf", "a.pdf", "--check", "FILE")
	assert.Regexp(t, `Title: +Grüße \(𝄞\) \\ 漢\n`, tool(t, data, "pdfinfo", "a.pdf", "FILE"))
	assert.Contains(t, tool(t, data, "pdftotext", "a.pdf", "FILE", "-"), "from \uFFFD to \uFFFD, (\\) and 漢 end")
}

// The curves of a PDF file stray from their arcs by no more than is said, and
// by the rounding of places.
func TestCurvesFollowArcs(t *testing.T) {
	const point = 25.4 / 72
	for _, r := range []float64{0.05, 0.4, 3, 10, 50, 200, 500} {
		for _, deg := range []float64{0.5, 30, 90, 91, 200, 360} {
			for _, clockwise := range []bool{false, true} {
				c := sheet.Point{X: 600, Y: 600}
				end := deg * math.Pi / 180
				if clockwise {
					end = -end
				}
				to := c.Add(r*math.Cos(end), r*math.Sin(end))
				w := newPages()
				w.SetCompression(false)
				w.sheet(&sheet.Sheet{Format: sheet.Format{W: 1200, H: 1200}, Shapes: []sheet.Shape{{Line: sheet.Thin, Fill: sheet.Clear,
					Paths: []sheet.Path{{Start: c.Add(r, 0), Steps: []sheet.Step{{To: to, Arc: true, Clockwise: clockwise, Centre: c}}}}}}})
				var out bytes.Buffer
				require.NoError(t, w.Output(&out))
				curves := regexp.MustCompile(`(\S+) (\S+) (\S+) (\S+) (\S+) (\S+) c\n`).FindAllStringSubmatch(out.String(), -1)
				require.NotEmpty(t, curves)
				from, turned := c.Add(r, 0), 0.0
				for _, found := range curves {
					var p [3]sheet.Point
					for i := range p {
						x, err := strconv.ParseFloat(found[2*i+1], 64)
						require.NoError(t, err)
						y, err := strconv.ParseFloat(found[2*i+2], 64)
						require.NoError(t, err)
						p[i] = sheet.Point{X: x * point, Y: y * point}
					}
					for i := 0.; i <= 16; i++ {
						u, v := i/16, 1-i/16
						x := v*v*v*from.X + 3*v*v*u*p[0].X + 3*v*u*u*p[1].X + u*u*u*p[2].X
						y := v*v*v*from.Y + 3*v*v*u*p[0].Y + 3*v*u*u*p[1].Y + u*u*u*p[2].Y
						assert.InDelta(t, r, math.Hypot(x-c.X, y-c.Y), bezierOff+0.0018*math.Sqrt2, "r %v, %v degrees", r, deg)
					}
					step := math.Atan2(p[2].Y-c.Y, p[2].X-c.X) - math.Atan2(from.Y-c.Y, from.X-c.X)
					turned += math.Remainder(step, 2*math.Pi)
					from = p[2]
				}
				assert.InDelta(t, end, turned, 0.006/r, "r %v, %v degrees: the way round", r, deg)
				assert.InDelta(t, 0, math.Hypot(to.X-from.X, to.Y-from.Y), 0.003, "r %v, %v degrees: its end", r, deg)
			}
		}
	}
}

// Fonts of two files of which other letters are used bear other marks: who
// joins the files must not take one for the other.
func TestFontsAreMarked(t *testing.T) {
	marks := map[string]bool{}
	for _, s := range []string{"abc", "abd", "cba"} {
		x := &sheet.Sheet{Format: sheet.Formats[0]}
		x.Write(sheet.Text{At: sheet.Point{X: 50, Y: 50}, S: s, Height: 3.5}, sheet.Text{At: sheet.Point{X: 50, Y: 60}, S: "bold", Height: 3.5, Bold: true})
		data, err := PDF([]*sheet.Sheet{x}, About{})
		require.NoError(t, err)
		fonts := tool(t, data, "pdffonts", "a.pdf", "FILE")
		found := regexp.MustCompile(`(?m)^([A-Z]{6})\+DejaVuSansCondensed .* yes yes yes`).FindStringSubmatch(fonts)
		require.NotNil(t, found, fonts)
		marks[found[1]] = true
		assert.Regexp(t, `(?m)^[A-Z]{6}\+DejaVuSansCondensed-Bold .* yes yes yes`, fonts)
	}
	assert.Len(t, marks, 2, "the same letters, the same mark")
}

func TestWithoutADateThereIsNone(t *testing.T) {
	one, err := PDF(two(), About{})
	require.NoError(t, err)
	two, err := PDF(two(), About{})
	require.NoError(t, err)
	assert.Equal(t, one, two)
	assert.NotContains(t, string(one), "Title")
	assert.NotContains(t, string(one), "CreationDate")
	assert.NotContains(t, string(one), "ModDate")
	tool(t, one, "qpdf", "a.pdf", "--check", "FILE")
}

// Two fonts stand in a file in one order.
func TestTheSameSheetsGiveTheSameBytes(t *testing.T) {
	one, err := PDF([]*sheet.Sheet{lettered()}, About{})
	require.NoError(t, err)
	for range 12 {
		other, err := PDF([]*sheet.Sheet{lettered()}, About{})
		require.NoError(t, err)
		require.True(t, bytes.Equal(one, other))
	}
	for i, name := range []string{"DejaVu Sans Condensed", "DejaVu Sans Condensed Bold"} {
		font, err := sfnt.Parse(sheet.Font(i == 1))
		require.NoError(t, err)
		kept, err := font.Name(nil, sfnt.NameIDFull)
		require.NoError(t, err)
		assert.Equal(t, name, kept, "the program's lettering is not written into")
	}
}

// A full sheet takes little room: 27 kB when this was written, of which the
// fonts are 12. Without compression, or with all that the fonts' files hold,
// it is more.
func TestFilesAreSmall(t *testing.T) {
	data, err := PDF([]*sheet.Sheet{dense()}, About{})
	require.NoError(t, err)
	assert.Less(t, len(data), 30_000)
	tool(t, data, "qpdf", "a.pdf", "--check", "FILE")
}

// A file written in another second is the same file.
func TestTheHourDoesNotShow(t *testing.T) {
	one, err := PDF(two(), About{Title: "x"})
	require.NoError(t, err)
	time.Sleep(1100 * time.Millisecond)
	two, err := PDF(two(), About{Title: "x"})
	require.NoError(t, err)
	assert.True(t, bytes.Equal(one, two))
}

func TestSVGIsRead(t *testing.T) {
	data := SVG(two()[0], About{Title: "a <b>"})
	tool(t, data, "xmllint", "a.svg", "--noout", "FILE")
	text := tool(t, data, "xmllint", "a.svg", "--xpath", "//*[local-name()='text']/text()", "FILE")
	assert.Contains(t, text, "ordinate 1: ⌀12.5 ± 0.1 µm²")
	assert.Contains(t, string(data), `width="420mm"`)
	assert.Contains(t, string(data), `id="ring"`)
	tool(t, data, "rsvg-convert", "a.svg", "FILE", "-o", filepath.Join(t.TempDir(), "a.png"))
	assert.Equal(t, data, SVG(two()[0], About{Title: "a <b>"}))
}

// Texts of an SVG begin where the sheet says and are as long as it reckons.
func TestSVGTextsStandWhereTheSheetSays(t *testing.T) {
	s := lettered()
	var read struct {
		Texts []struct {
			S         string  `xml:",chardata"`
			X         float64 `xml:"x,attr"`
			Y         float64 `xml:"y,attr"`
			Long      float64 `xml:"textLength,attr"`
			Size      float64 `xml:"font-size,attr"`
			Transform string  `xml:"transform,attr"`
		} `xml:"text"`
	}
	require.NoError(t, xml.Unmarshal(SVG(s, About{}), &read))
	require.Len(t, read.Texts, len(s.Texts))
	for i, x := range s.Texts {
		found := read.Texts[i]
		require.Equal(t, x.S, found.S)
		assert.InDelta(t, x.Width(), found.Long, 1e-4)
		assert.InDelta(t, sheet.Em(x.Height), found.Size, 1e-4)
		back := map[sheet.Align]float64{sheet.Left: 0, sheet.Centre: x.Width() / 2, sheet.Right: x.Width()}[x.Align]
		left, base := x.At.X-back, s.Format.H-x.At.Y
		if x.Up {
			_, err := fmt.Sscanf(found.Transform, "translate(%f %f) rotate(-90)", &found.X, &found.Y)
			require.NoError(t, err, found.Transform)
			left, base = x.At.X, s.Format.H-x.At.Y+back
		}
		assert.InDelta(t, left, found.X, 1e-4, x.S)
		assert.InDelta(t, base, found.Y, 1e-4, x.S)
	}
}

func TestPNGIsRead(t *testing.T) {
	data, err := PNG(two()[0], 50)
	require.NoError(t, err)
	image, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	assert.InDelta(t, 420/25.4*50, image.Bounds().Dx(), 1)
	assert.InDelta(t, 297/25.4*50, image.Bounds().Dy(), 1)
	dark := 0
	for y := range image.Bounds().Dy() {
		for x := range image.Bounds().Dx() {
			if r, _, _, _ := image.At(x, y).RGBA(); r < 0x8000 {
				dark++
			}
		}
	}
	assert.Positive(t, dark, "something is drawn")
}

func TestNoSheets(t *testing.T) {
	_, err := PDF(nil, About{})
	assert.Error(t, err)
	assert.False(t, errors.Is(err, os.ErrNotExist))
}
