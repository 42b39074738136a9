package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/plot"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/finding"
	"hemline/lang/source"
)

type drawCommand struct {
	File       string `arg:"" help:"The board."`
	Out        string `short:"o" required:"" placeholder:"FILE" help:"The drawing: .pdf holds all sheets; .svg and .png hold one each, further ones get a number."`
	Sheet      string `help:"The size of the sheets, A4 to A0; the smallest from A3 on that does if not said."`
	Scale      string `help:"The scale of the faces, as 2:1; the largest that fits if not said."`
	ThirdAngle bool   `help:"Third-angle projection; first-angle if not said."`
	Date       string `help:"The date of issue, as 2026-11-25; without it SOURCE_DATE_EPOCH, else none."`
}

// Help is shown under `hemline draw --help`.
func (drawCommand) Help() string {
	return `Both faces with what is plated and where it starts and ends, and tables of
stretches, gaps, tabs, half holes, cutouts, openings and the stack. The same
board gives the same bytes.

Examples:
  hemline draw board.hem -o board.pdf
  hemline draw board.hem -o board.svg --sheet A3 --scale 1:1`
}

// resolution of a PNG, dots an inch.
const resolution = 150

// Run writes the drawing.
func (c drawCommand) Run(s *streams) error {
	issued, err := creation(c.Date)
	if err != nil {
		return err
	}
	f, err := source.Read(c.File)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	a := lang.Analyze(f, source.Read, nil)
	found := checks.Check(a, checks.Options{Today: time.Now().Format(time.DateOnly)}).Findings
	shapes := scene.Build(a.Board())
	sheets, err := drawing.Make(a.Board(), shapes, drawing.Options{
		Format: c.Sheet, Scale: c.Scale, ThirdAngle: c.ThirdAngle, Date: issued, Findings: listed(shapes, f, found), Notes: notes.Texts(fabricationNotes(a)),
	})
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	written, err := plotted(c.Out, sheets, plot.About{Title: titleOf(a.Board()), Date: issued})
	if err != nil {
		return err
	}
	if len(found) > 0 {
		s.fail("%s has %d findings; they are listed on the drawing", c.File, len(found))
	}
	_, err = fmt.Fprintf(s.out, "%s: %d sheets\n", strings.Join(written, ", "), len(sheets))
	return err
}

func titleOf(b *board.Board) string {
	if b.Info == nil {
		return "board"
	}
	if b.Info.Title.Given() {
		return b.Info.Title.Text
	}
	return b.Info.Name.Text
}

// pictured draws a board with its findings marked where they are.
func pictured(out string, r result) error {
	shapes := scene.Build(r.analysis.Board())
	sheets, err := drawing.Make(r.analysis.Board(), shapes, drawing.Options{Findings: listed(shapes, r.analysis.Root(), r.Findings), Marked: true})
	if err != nil {
		return fmt.Errorf("%s: %w", r.path, err)
	}
	_, err = plotted(out, sheets, plot.About{Title: titleOf(r.analysis.Board())})
	return err
}

// listed turns findings into what a sheet says of them.
func listed(shapes *scene.Scene, root *source.File, found []finding.Located) []drawing.Finding {
	list := make([]drawing.Finding, len(found))
	for i, x := range found {
		where := fmt.Sprintf("line %d", x.File.LineOf(x.Span.Start)+1)
		if x.File != root {
			where = filepath.Base(x.File.Path()) + ", " + where
		}
		list[i] = drawing.Finding{Category: x.Category.String(), Rule: x.Rule, Message: x.Message, Where: where, Items: shapes.On(x.Place)}
	}
	return list
}

// plotted writes sheets in the form that the file's name asks for, each file
// whole or not at all, and returns their names.
func plotted(out string, sheets []*sheet.Sheet, about plot.About) ([]string, error) {
	type page struct {
		name string
		data []byte
	}
	var pages []page
	suffix := strings.ToLower(filepath.Ext(out))
	switch suffix {
	case ".pdf":
		data, err := plot.PDF(sheets, about)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", out, err)
		}
		pages = append(pages, page{out, data})
	case ".svg", ".png":
		for i, x := range sheets {
			name := out
			if i > 0 {
				name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(out, filepath.Ext(out)), i+1, filepath.Ext(out))
			}
			data, err := plot.SVG(x, about), error(nil)
			if suffix == ".png" {
				data, err = plot.PNG(x, resolution)
			}
			if err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			pages = append(pages, page{name, data})
		}
	default:
		return nil, fmt.Errorf("%s: expected a name that ends in .pdf, .svg or .png", out)
	}
	var names []string
	for _, p := range pages {
		if err := writeWhole(p.name, p.data); err != nil {
			return nil, err
		}
		names = append(names, p.name)
	}
	return names, nil
}
