package main

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"hemline/checks/report"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/layers"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/plot"
	"hemline/lang/emit/queries"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

type packCommand struct {
	File    string `arg:"" help:"The board."`
	Out     string `short:"o" required:"" placeholder:"FILE.zip" help:"The package to write."`
	Despite bool   `help:"Pack although findings stand; the cover says so."`
	sheetFlags
}

// Help is shown under `hemline pack --help`.
func (packCommand) Help() string {
	return `Everything that a shop builds from, in one archive: a cover page, the drawing,
the fabrication notes, the queries, the report of figures, the layers, and the
hashes of all. It is refused while findings stand. The same board gives the same
bytes.

Examples:
  hemline pack board.hem -o board.zip
  hemline pack board.hem -o board.zip --despite

Exit codes: 0 packed, 1 findings stand and nothing was written, 2 could not run.`
}

// Run writes the package.
func (c packCommand) Run(s *streams) error {
	issued, err := creation(c.Date)
	if err != nil {
		return err
	}
	if strings.ToLower(filepath.Ext(c.Out)) != ".zip" {
		return fmt.Errorf("%s: expected a name that ends in .zip", c.Out)
	}
	r := checkBeside(c.File, s.today())
	if err := r.inFull(s); err != nil {
		return err
	}
	if n := len(r.Findings); n > 0 && !c.Despite {
		s.fail("%s has %s, so nothing was packed; `hemline check` lists them, --despite packs all the same and says so on the cover", c.File, wording.Plural(n, "finding"))
		return exitCode(exitFindings)
	}
	asked := queries.Ask(r.analysis.Board())
	files, err := c.files(s, r, asked, issued)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := bundle.Zip(&out, folderOf(r), files, issued); err != nil {
		return fmt.Errorf("%s: %w", c.Out, err)
	}
	if err := writeWhole(c.Out, out.Bytes()); err != nil {
		return err
	}
	r.stands(s, "the cover says that it was packed all the same")
	if n := queries.Count(asked, queries.Open); n > 0 {
		s.fail("%s leaves open what a shop would ask, %s; `hemline queries` lists what would answer", c.File, wording.Plural(n, "question"))
	}
	_, err = fmt.Fprintf(s.out, "%s: %d files\n", c.Out, len(files))
	return err
}

// checkBeside checks a file as if hemline ran in its folder: what is made of a
// board is the same wherever it lies.
func checkBeside(file, today string) result {
	folder, name := filepath.Split(file)
	return checkAs(file, name, today, func(name string) (*source.File, error) {
		from := name
		if !filepath.IsAbs(name) {
			from = filepath.Join(folder, name)
		}
		f, err := source.Read(from)
		if err != nil {
			return nil, err
		}
		return source.New(name, f.Text()), nil
	})
}

// folderOf is the folder that a package unpacks to: the board's name and revision.
func folderOf(r result) string {
	b := r.analysis.Board()
	stem := layers.FileStem(b)
	if b.Info() != nil && b.Info().Revision.Text != "" {
		stem += "-" + layers.Plain(b.Info().Revision.Text)
	}
	return stem
}

// files are all of a package, the cover first and the manifest last.
func (c packCommand) files(s *streams, r result, asked []queries.Result, issued time.Time) ([]bundle.File, error) {
	b := r.analysis.Board()
	shapes := shapesOf(r.analysis)
	list := fabricationNotes(r)
	var made []bundle.File
	var fault error
	var beside sync.WaitGroup // what takes longest beside the drawing, at the same time
	beside.Go(func() { made, fault = layerFiles(r, issued) })
	defer beside.Wait()
	sheets, err := drawn(s, r, shapes, drawing.Options{Format: c.Sheet, ThirdAngle: c.ThirdAngle, Date: issued, Notes: notes.Texts(list)})
	if err != nil {
		return nil, err
	}
	about := plot.About{Title: titleOf(b), Date: issued}
	plan, err := plot.PDF(sheets, about)
	if err != nil {
		return nil, err
	}
	files := []bundle.File{{Name: "drawing.pdf", About: "the drawing: faces, sections, details, tables, notes; " + wording.Plural(len(sheets), "sheet"), Data: plan}}
	for _, f := range []struct {
		name, about string
		write       func(io.Writer) error
	}{
		{"notes.txt", "the fabrication notes", func(w io.Writer) error { return notes.Text(w, b, list) }},
		{"notes.md", "the same, in Markdown", func(w io.Writer) error { return notes.Markdown(w, b, list) }},
		{"queries.md", "what a shop would ask: answered, open, left to it", func(w io.Writer) error {
			return queries.Markdown(w, r.analysis.Root().Path(), asked, lineOf(r.analysis))
		}},
		{"report.md", "computed figures; bounds, not measurements", func(w io.Writer) error { return report.New(r.analysis, r.today, r.modes).Markdown(w) }},
	} {
		var text bytes.Buffer
		if err := f.write(&text); err != nil {
			return nil, err
		}
		files = append(files, bundle.File{Name: f.name, About: f.about, Data: text.Bytes()})
	}
	if beside.Wait(); fault != nil {
		return nil, fault
	}
	for _, f := range made {
		f.Name = path.Join("layers", f.Name)
		files = append(files, f)
	}
	cover, err := plot.PDF(drawing.Cover(b, shapes, coverOf(r, shapes, asked, issued, files)), about)
	if err != nil {
		return nil, err
	}
	files = append([]bundle.File{{Name: "cover.pdf", About: "the cover page", Data: cover}}, files...)
	return append(files, bundle.Manifest(files)), nil
}

// coverOf is what the cover says beside the board.
func coverOf(r result, shapes *scene.Scene, asked []queries.Result, issued time.Time, files []bundle.File) drawing.Package {
	b := r.analysis.Board()
	p := drawing.Package{Date: issued, Limits: "built in, common practice; no fabricator is named", Queries: queries.Summary(asked), Files: files,
		Findings: listed(shapes, r.analysis.Root(), r.Findings)}
	if shop := b.Fabricator(); shop != nil {
		p.Limits = "of fabricator " + shop.Name.Text + ", and built in where it states none"
	}
	for _, x := range r.NotVerified() {
		p.NotVerified = append(p.NotVerified, x.Says+": "+x.Why)
	}
	for _, x := range r.Accepted {
		p.Accepted = append(p.Accepted, drawing.Accepted{Finding: entry(shapes, r.analysis.Root(), x.Located), Because: x.By.Because.Text, Until: x.By.Until.Text})
	}
	for _, q := range asked {
		switch q.State {
		case queries.Open:
			p.Open = append(p.Open, q.Question)
		case queries.Left:
			p.Left = append(p.Left, q.Question+" "+q.Reasons())
		}
	}
	return p
}
