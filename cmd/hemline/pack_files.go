package main

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"sync"
	"time"

	"hemline/checks"
	"hemline/checks/report"
	"hemline/lang/emit/build"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/job"
	"hemline/lang/emit/layers"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/plot"
	"hemline/lang/emit/queries"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/wording"
)

// made is a package in the making.
type made struct {
	r      result
	issued time.Time
	shapes *scene.Scene
	about  plot.About
	files  []bundle.File

	// What is made beside the drawing.
	asked   []queries.Result
	figures []byte // the report
	layers  []bundle.File
	coupon  []bundle.File
	coupons []string // of each what stands against it
}

// made makes all of a package, the cover first and the manifest last.
func (c packCommand) made(s *streams, r result, issued time.Time, place layers.Place) (*made, error) {
	b := r.analysis.Board()
	p := &made{r: r, issued: issued, shapes: shapesOf(r.analysis), about: plot.About{Title: titleOf(b), Date: issued}}
	faults := make([]error, 4)
	var beside sync.WaitGroup
	for i, work := range []func() error{
		func() (err error) { p.layers, err = layerFiles(r, issued, place); return err },
		func() error { p.asked = queries.AskWith(b, r.modes); return nil },
		p.report,
		func() error { return p.makeCoupons(s) },
	} {
		beside.Go(func() { faults[i] = work() })
	}
	defer beside.Wait()
	drawn, list, err := c.drawing(s, p)
	if err != nil {
		return nil, err
	}
	checklist, err := plot.PDF(checklistSheets(r, p.shapes, articleOf(r), issued), p.about)
	if err != nil {
		return nil, err
	}
	if beside.Wait(); errors.Join(faults...) != nil {
		return nil, errors.Join(faults...)
	}
	texts, err := p.texts(drawn, list)
	if err != nil {
		return nil, err
	}
	p.files = append(texts, bundle.File{Name: "checklist.pdf", Role: "checklist", About: "what is measured on the first article, with room to write", Data: checklist})
	machine, err := p.forMachines()
	if err != nil {
		return nil, err
	}
	cover, err := plot.PDF(drawing.Cover(b, p.shapes, p.cover(slices.Concat(p.files, machine))), p.about)
	if err != nil {
		return nil, err
	}
	p.files = append(append([]bundle.File{{Name: "cover.pdf", Role: "cover", About: "the cover page", Data: cover}}, p.files...), machine...)
	p.files = append(p.files, bundle.Manifest(p.files))
	return p, nil
}

// drawing makes the drawing, and the notes that stand on it.
func (c packCommand) drawing(s *streams, p *made) (bundle.File, []notes.Note, error) {
	list := fabricationNotes(p.r)
	sheets, err := drawn(s, p.r, p.shapes, drawing.Options{Format: c.Sheet, ThirdAngle: c.Projection == "third", Date: p.issued, Notes: notes.Sections(list)})
	if err != nil {
		return bundle.File{}, nil, err
	}
	plan, err := plot.PDF(sheets, p.about)
	return bundle.File{Name: "drawing.pdf", Role: "drawing", About: "the drawing: faces, sections, details, tables, notes; " + wording.Plural(len(sheets), "sheet"), Data: plan}, list, err
}

func (p *made) report() error {
	var text bytes.Buffer
	err := report.Of(p.r.analysis, p.r.Outcome, p.r.modes).Markdown(&text)
	p.figures = text.Bytes()
	return err
}

// texts are the drawing and what is read beside it.
func (p *made) texts(plan bundle.File, list []notes.Note) ([]bundle.File, error) {
	a := p.r.analysis
	files, tables := []bundle.File{plan}, drawing.Tables(a.Board(), p.shapes, checks.BitsOf(a.Board()).Tab)
	for _, f := range []struct {
		name, role, about string
		write             func(io.Writer) error
	}{
		{"notes.txt", "notes", "the fabrication notes, and the tables that they refer to", func(w io.Writer) error { return notes.Text(w, a.Board(), list, tables) }},
		{"notes.md", "notes", "the same, in Markdown", func(w io.Writer) error { return notes.Markdown(w, a.Board(), list, tables) }},
		{"queries.md", "queries", "what a shop would ask: answered, open, left to it", func(w io.Writer) error {
			return queries.Markdown(w, a.Root().Path(), p.asked, lineOf(a))
		}},
		{"report.md", "report", "computed figures; bounds, not measurements", func(w io.Writer) error { _, err := w.Write(p.figures); return err }},
	} {
		var text bytes.Buffer
		if err := f.write(&text); err != nil {
			return nil, err
		}
		files = append(files, bundle.File{Name: f.name, Role: f.role, About: f.about, Data: text.Bytes()})
	}
	return files, nil
}

// forMachines are the files that programs read: build.json, which tells of all
// but the cover, then the layers, their job file, the coupons and the texts.
func (p *made) forMachines() ([]bundle.File, error) {
	a, b := p.r.analysis, p.r.analysis.Board()
	var list []bundle.File
	for _, f := range bundle.Under("layers", p.layers) {
		if f.Role = "layer"; f.Function == "" {
			f.Role = "readme"
		}
		list = append(list, f)
	}
	listed, err := job.Make(b, job.Options{Version: release(), Created: p.issued, Files: list}).JSON()
	if err != nil {
		return nil, err
	}
	list = append(list, bundle.File{Name: layers.FileStem(b) + job.Suffix, Role: "job", About: "the layers' job file", Data: listed})
	sources := bundle.Under("text", sourcesOf(a))
	list = append(append(list, p.coupon...), sources...)
	document, err := build.Make(b, build.Options{Program: release(), Text: sources[0].Name, Date: p.issued, Bits: checks.LimitsFor(a).Bits(b),
		Check: build.Check{Stand: len(p.r.Findings), Accepted: len(p.r.Accepted), Open: queries.Count(p.asked, queries.Open), Despite: len(p.r.Findings) > 0}, Files: slices.Concat(p.files, list)}).JSON()
	if err != nil {
		return nil, err
	}
	return append([]bundle.File{{Name: build.Name, Role: "build", About: "the board and these files for the shop's programs", Data: document}}, list...), nil
}

// coverOf is what the cover says beside the board.
func (p *made) cover(files []bundle.File) drawing.Package {
	r, b := p.r, p.r.analysis.Board()
	x := drawing.Package{Date: p.issued, Limits: "built in, common practice; no fabricator is named", Queries: queries.Summary(p.asked), Files: files,
		Findings: listed(p.shapes, r.analysis.Root(), r.Findings), Coupons: p.coupons}
	if shop := b.Fabricator(); shop != nil {
		x.Limits = "of fabricator " + shop.Name.Text + ", and built in where it states none"
	}
	for _, a := range r.NotVerified() {
		x.NotVerified = append(x.NotVerified, a.Says+": "+a.Why)
	}
	for _, a := range r.Accepted {
		x.Accepted = append(x.Accepted, drawing.Accepted{Finding: entry(p.shapes, r.analysis.Root(), a.Located), Because: a.By.Because.Text, Until: a.By.Until.Text})
	}
	for _, q := range p.asked {
		switch q.State {
		case queries.Open:
			x.Open = append(x.Open, q.Question+" Would answer: "+q.Texts())
		case queries.Left:
			x.Left = append(x.Left, q.Question+" "+q.Reasons())
		}
	}
	return x
}
