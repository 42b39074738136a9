package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/alecthomas/kong"

	"hemline/checks/figures"
	"hemline/lang/emit/build"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/layers"
	"hemline/lang/emit/queries"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// schema is a flag that prints a schema in the command's place.
type schema bool

// BeforeReset prints it before anything else is asked for.
func (schema) BeforeReset(app *kong.Kong) error {
	_, err := app.Stdout.Write(build.Schema)
	app.Exit(exitClean)
	return err
}

type packCommand struct {
	File    string `arg:"" help:"The board."`
	Out     string `short:"o" required:"" placeholder:"FILE.zip" help:"The package to write."`
	Despite bool   `help:"Pack although findings stand; the cover says so."`
	Schema  schema `help:"Print the JSON Schema of build.json, and do nothing else."`
	sheetFlags
	placeFlags
}

// Help is shown under `hemline pack --help`.
func (packCommand) Help() string {
	return `Everything that a shop builds from, in one archive: a cover page, the drawing,
the fabrication notes, the queries, the report of figures, the first article's
checklist, the layers with their job file, build.json for the shop's programs,
the board's texts, and the hashes of all. Where the criteria say ` + "`coupon required`" + `,
a coupon of each plated wall too, as a text with its drawing and layers. It is
refused while findings stand. The same board gives the same bytes.

Examples:
  hemline pack board.hem -o board.zip
  hemline pack board.hem -o board.zip --despite
  hemline pack --schema > build.schema.json

Exit codes: 0 packed, 1 findings stand and nothing was written, 2 could not run.`
}

// Run writes the package.
func (c packCommand) Run(s *streams) error {
	issued, err := creation(c.Date)
	if err != nil {
		return err
	}
	place, err := c.place()
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
	p, err := c.made(s, r, issued, place)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := bundle.Zip(&out, folderOf(r), p.files, issued); err != nil {
		return fmt.Errorf("%s: %w", c.Out, err)
	}
	if err := writeWhole(c.Out, out.Bytes()); err != nil {
		return err
	}
	r.stands(s, "the cover says that it was packed all the same")
	if n := queries.Count(p.asked, queries.Open); n > 0 {
		s.fail("%s leaves open what a shop would ask, %s; `hemline queries` lists what would answer", c.File, wording.Plural(n, "question"))
	}
	return s.say("%s: %d files", c.Out, len(p.files))
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
	}, nil, figures.NewStore(nil))
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
