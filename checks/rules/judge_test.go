package rules

import (
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/layers"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/plot"
	"hemline/lang/emit/queries"
	"hemline/lang/emit/scene"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// One judge: what a check finds nothing in is drawn, made layers of and packed,
// and what layers refuse a board for a check has found. It is tried on every
// example, every text of the rules and every made board.
func TestWhatIsCleanIsWritten(t *testing.T) {
	t.Parallel()
	clean, refused, n := 0, 0, 0
	try := func(name string, a *lang.Analysis) {
		b := a.Board()
		if n++; passedOver(n) || b.Outline() == nil {
			return // no board, or one whose shape is found to be none
		}
		found := underAll(a)
		files, err := layers.Build(b, checks.LimitsFor(a).ForLayers())
		if err != nil {
			refused++
			assert.NotEmpty(t, found, "%s: layers refuse what is clean: %v\n%s", name, err, a.Root().Text())
			return
		}
		if len(found) == 0 {
			clean++
			assert.NoError(t, handedOver(a, files), "%s\n%s", name, a.Root().Text())
		}
	}
	everyBoard(t, try)
	t.Logf("%d clean boards written, %d boards refused", clean, refused)
	if raced {
		return
	}
	assert.GreaterOrEqual(t, clean, 120)
	assert.GreaterOrEqual(t, refused, 4, "boards that layers refuse are among them")
}

// everyBoard calls visit with every example, every text of the rules and every
// made board, whatever is found in it.
func everyBoard(t *testing.T, visit func(name string, a *lang.Analysis)) {
	t.Helper()
	for _, s := range subjects() {
		visit(s.path, s.a)
	}
	for _, pattern := range []string{"../../examples/*.hem", "../../examples/*/*.hem"} {
		examples, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, examples)
		for _, f := range examples {
			text, err := source.Read(f)
			require.NoError(t, err)
			visit(f, readText(strings.TrimPrefix(filepath.ToSlash(f), "../../"), text.Text()))
		}
	}
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		visit(s.Name(), s.Analyze())
	}
	for _, r := range All() {
		visit(r.Name+", bad", analyze(r.Bad))
		visit(r.Name+", good", analyze(r.Good))
	}
}

// handedOver draws and packs a board.
func handedOver(a *lang.Analysis, files []bundle.File) error {
	b := a.Board()
	list := notes.Make(b, notes.Figures{})
	shapes := scene.Build(b, 0)
	sheets, err := drawing.Make(b, shapes, drawing.Options{Notes: notes.Sections(list)})
	if err != nil {
		return err
	}
	plan, err := plot.PDF(sheets, plot.About{})
	if err != nil {
		return err
	}
	for _, s := range sheets {
		plot.SVG(s, plot.About{})
	}
	asked := queries.Ask(b)
	cover, err := plot.PDF(drawing.Cover(b, shapes, drawing.Package{Queries: queries.Summary(asked), Files: files}), plot.About{})
	if err != nil {
		return err
	}
	for _, write := range []func(io.Writer) error{
		func(w io.Writer) error { return notes.Text(w, b, list, drawing.Tables(b, shapes, nil)) },
		func(w io.Writer) error { return notes.Markdown(w, b, list, drawing.Tables(b, shapes, nil)) },
		func(w io.Writer) error {
			return queries.Markdown(w, a.Root().Path(), asked, func(source.Place) (string, int) { return "", 0 })
		},
	} {
		if err := write(io.Discard); err != nil {
			return err
		}
	}
	files = append(files, bundle.File{Name: "drawing.pdf", Data: plan}, bundle.File{Name: "cover.pdf", Data: cover})
	return bundle.Zip(io.Discard, "board", append(files, bundle.Manifest(files)), time.Time{})
}
