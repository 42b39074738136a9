package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"hemline/checks"
	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/plot"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
	"hemline/lang/source"
)

type drawCommand struct {
	File  string `arg:"" help:"The board."`
	Out   string `short:"o" required:"" placeholder:"FILE" help:"The drawing: .pdf holds all sheets; .svg and .png hold one each, further ones get a number."`
	Scale string `help:"The scale of the faces, as 2:1; default: the largest that fits."`
	sheetFlags
}

// sheetFlags are what may be asked of a drawing's sheets, alone or in a package.
type sheetFlags struct {
	Sheet      string `enum:"${sheets}" default:"A3" help:"The size of the drawing's sheets: ${enum}."`
	Projection string `enum:"first,third" default:"first" help:"The method of projection, first or third: of its angle. The bottom face stands right of the top one, or left of it."`
	Date       string `help:"The date of issue, as 2026-11-25; without it SOURCE_DATE_EPOCH, else none."`
}

// Help is shown under `hemline draw --help`.
func (drawCommand) Help() string {
	return `Both faces with what is plated and where it starts and ends, sections through
the walls, details of tabs, gaps and half holes, tables, and the fabrication
notes. The same board gives the same bytes.

Examples:
  hemline draw board.hem -o board.pdf
  hemline draw board.hem -o board.svg --sheet A3 --scale 1:1

Exit codes: 0 drawn whatever findings stand, 1 no outline can be read and nothing was written, 2 could not run.`
}

// resolution of a PNG, dots an inch.
const resolution = 150

// Run writes the drawing.
func (c drawCommand) Run(s *streams) error {
	issued, err := creation(c.Date)
	if err != nil {
		return err
	}
	r := checkFile(c.File, s.today())
	if r.err != nil {
		return r.err
	}
	sheets, err := drawn(s, r, shapesOf(r.analysis), drawing.Options{Format: c.Sheet, Scale: c.Scale, ThirdAngle: c.Projection == "third", Date: issued, Notes: notes.Sections(fabricationNotes(r))})
	if err != nil {
		return err
	}
	files, err := plotted(c.Out, sheets, plot.About{Title: titleOf(r.analysis.Board()), Date: issued})
	if err != nil {
		return err
	}
	if err := writeAll(files); err != nil {
		return err
	}
	if suffix := filepath.Ext(c.Out); !strings.EqualFold(suffix, ".pdf") {
		if next := numbered(c.Out, len(files)); exists(next) {
			s.fail("%s lies beside the new sheets and is none of them: an earlier drawing had more", next)
		}
	}
	r.stands(s, "listed on the drawing")
	return s.say("%s: %s", strings.Join(names(files), ", "), wording.Plural(len(sheets), "sheet"))
}

// checked adds to a sheet's options what checking came to.
func (r result) checked(shapes *scene.Scene, o drawing.Options) drawing.Options {
	o.Findings, o.Accepted = listed(shapes, r.analysis.Root(), r.Findings), len(r.Accepted)
	return o
}

// drawn draws a board with what stands against it.
func drawn(s *streams, r result, shapes *scene.Scene, o drawing.Options) ([]*sheet.Sheet, error) {
	b := r.analysis.Board()
	o = r.checked(shapes, o)
	o.Cut = checks.BitsOf(b).Tab
	if f := report.FieldOf(b, r.Resonances); f != nil && f.Met {
		o.Field = f
	}
	sheets, err := drawing.Make(b, shapes, o)
	if errors.Is(err, drawing.ErrNoOutline) {
		// What looks absent may only be misspelt.
		if unread := r.inFull(s); unread != nil {
			return nil, unread
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.path, err)
	}
	return sheets, nil
}

// shapesOf is what a drawing starts from.
func shapesOf(a *lang.Analysis) *scene.Scene {
	return scene.Build(a.Board(), checks.LimitsFor(a).MaskMargin())
}

func titleOf(b *board.Board) string {
	if b.Info() == nil {
		return "board"
	}
	if b.Info().Title.Given() {
		return source.Visible(b.Info().Title.Text)
	}
	return source.Visible(b.Info().Name.Text)
}

// pictured draws a board with its findings marked where they are.
func pictured(s *streams, out string, r result) error {
	sheets, err := drawn(s, r, shapesOf(r.analysis), drawing.Options{Marked: true})
	if err != nil {
		return err
	}
	files, err := plotted(out, sheets, plot.About{Title: titleOf(r.analysis.Board())})
	if err != nil {
		return err
	}
	return writeAll(files)
}

// listed turns findings into what a sheet says of them.
func listed(shapes *scene.Scene, root *source.File, found []finding.Located) []drawing.Finding {
	list := make([]drawing.Finding, len(found))
	for i, x := range found {
		list[i] = entry(shapes, root, x)
	}
	return list
}

// entry is a finding as a sheet lists it.
func entry(shapes *scene.Scene, root *source.File, x finding.Located) drawing.Finding {
	where := fmt.Sprintf("line %d", x.File.LineOf(x.Span.Start)+1)
	if x.File != root {
		where = filepath.Base(x.File.Path()) + ", " + where
	}
	return drawing.Finding{Category: x.Category.String(), Rule: x.Rule, Message: x.Message, Where: where, Items: shapes.On(x.Place)}
}

// plotted are sheets in the form that a file's name asks for: one file, or one
// for each sheet.
func plotted(out string, sheets []*sheet.Sheet, about plot.About) ([]bundle.File, error) {
	suffix := strings.ToLower(filepath.Ext(out))
	switch suffix {
	case ".pdf":
		data, err := plot.PDF(sheets, about)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", out, err)
		}
		return []bundle.File{{Name: out, Data: data}}, nil
	case ".svg", ".png":
		files, faults := make([]bundle.File, len(sheets)), make([]error, len(sheets))
		each(len(sheets), func(i int) {
			name := numbered(out, i)
			files[i].Name = name
			if suffix == ".svg" {
				files[i].Data = plot.SVG(sheets[i], about)
				return
			}
			data, err := plot.PNG(sheets[i], resolution)
			if files[i].Data = data; err != nil {
				faults[i] = fmt.Errorf("%s: %w", name, err)
			}
		})
		if err := cmp.Or(faults...); err != nil {
			return nil, err
		}
		return files, nil
	}
	return nil, fmt.Errorf("%s: expected a name that ends in .pdf, .svg or .png", out)
}

// numbered is the file of the sheet after i others: the first has the name that was asked for.
func numbered(out string, i int) string {
	if i == 0 {
		return out
	}
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(out, filepath.Ext(out)), i+1, filepath.Ext(out))
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// each calls do with the numbers up to n, as many at a time as the machine has
// processors: an image of a large sheet takes long, and much memory.
func each(n int, do func(i int)) {
	var work sync.WaitGroup
	next := atomic.Int64{}
	for range min(n, runtime.GOMAXPROCS(0)) {
		work.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	work.Wait()
}

func names(files []bundle.File) (list []string) {
	for _, f := range files {
		list = append(list, f.Name)
	}
	return list
}
