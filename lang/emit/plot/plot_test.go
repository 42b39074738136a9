package plot

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	text := tool(t, data, "pdftotext", "a.pdf", "FILE", "-")
	for i := range 2 {
		assert.Contains(t, text, fmt.Sprintf("ordinate %d: ⌀12.5 ± 0.1 µm², <&>", i+1))
	}
	tool(t, data, "qpdf", "a.pdf", "--check", "FILE")
	tool(t, data, "pdftoppm", "a.pdf", "-r", "20", "FILE", filepath.Join(t.TempDir(), "page"))
}

// A sign for two letters at once would keep a word from being found.
func TestWordsCanBeFound(t *testing.T) {
	s := &sheet.Sheet{Format: sheet.Formats[0]}
	for i, align := range []sheet.Align{sheet.Left, sheet.Centre, sheet.Right} {
		for _, up := range []bool{false, true} {
			at := sheet.Point{X: 100, Y: 20 + float64(i)*20}
			if up {
				at = sheet.Point{X: 60 + float64(i)*40, Y: 200}
			}
			s.Write(sheet.Text{At: at, S: "finding efficient flow off final", Height: 3.5, Align: align, Up: up})
		}
	}
	data, err := PDF([]*sheet.Sheet{s}, About{})
	require.NoError(t, err)
	text := tool(t, data, "pdftotext", "a.pdf", "FILE", "-")
	assert.Equal(t, 6, strings.Count(text, "finding efficient flow off final"), text)
}

func TestWithoutADateThereIsNone(t *testing.T) {
	one, err := PDF(two(), About{Title: "x"})
	require.NoError(t, err)
	two, err := PDF(two(), About{Title: "x"})
	require.NoError(t, err)
	assert.Equal(t, one, two)
	assert.NotContains(t, string(one), "CreationDate")
	tool(t, one, "qpdf", "a.pdf", "--check", "FILE")
}

// A file written in another second is the same file.
func TestTheHourDoesNotShow(t *testing.T) {
	one, err := PDF(two(), About{Title: "x"})
	require.NoError(t, err)
	time.Sleep(1100 * time.Millisecond)
	two, err := PDF(two(), About{Title: "x"})
	require.NoError(t, err)
	assert.True(t, bytes.Equal(one, two))
	fonts := tool(t, one, "pdffonts", "a.pdf", "FILE")
	assert.Regexp(t, `(?i)truetype.* yes yes yes`, fonts, "embedded, a subset, with its Unicode map")
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

// A fence of as many vias as a row may hold.
func BenchmarkManyCircles(b *testing.B) {
	s := &sheet.Sheet{Format: sheet.Formats[0]}
	shape := sheet.Shape{Line: sheet.Thin, Fill: sheet.Clear}
	for i := range 20_000 {
		shape.Paths = append(shape.Paths, sheet.Circle(sheet.Point{X: float64(i % 200), Y: float64(i / 200)}, 0.4))
	}
	s.Add(shape)
	for b.Loop() {
		if _, err := PDF([]*sheet.Sheet{s}, About{}); err != nil {
			b.Fatal(err)
		}
	}
}
