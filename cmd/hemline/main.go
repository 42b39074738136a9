// Command hemline checks, formats and explains boards whose edge is metal,
// written in .hem files.
package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"

	"github.com/alecthomas/kong"

	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// Exit codes.
const (
	exitClean    = 0
	exitFindings = 1
	exitFailed   = 2
)

// streams are what a command reads from and writes to, and its clock.
type streams struct {
	in       io.Reader
	out, err io.Writer
	colour   bool
	live     bool // err is a terminal: how far a long command is may be shown there
	clock
}

// fail says what kept a command from its work.
func (s *streams) fail(format string, args ...any) {
	fmt.Fprint(s.err, source.Visible(fmt.Sprintf("hemline: "+format+"\n", args...)))
}

// say tells what was done.
func (s *streams) say(format string, args ...any) error {
	_, err := io.WriteString(s.out, source.Visible(fmt.Sprintf(format+"\n", args...)))
	return err
}

// show writes what a board comes to in a format: whatever names are in it, what
// nobody sees is shown by its number, in JSON by an escape.
func (s *streams) show(format string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	_, err := s.out.Write(visible(format, b.Bytes()))
	return err
}

func visible(format string, data []byte) []byte {
	if format == "json" {
		return source.VisibleJSON(data)
	}
	return []byte(source.Visible(string(data)))
}

// command is the command line.
type command struct {
	Check      checkCommand      `cmd:"" help:"Check boards: what a fabricator cannot build, what is risky, costly or untidy."`
	Report     reportCommand     `cmd:"" help:"What is known of a board in figures: lengths, openings, bounds, masses, tabs."`
	Shops      shopsCommand      `cmd:"" help:"Compare what fabricators ask for with what a board has."`
	Compare    compareCommand    `cmd:"" help:"Say what differs between two versions of a board: items, figures, findings, queries, notes."`
	Layers     layersCommand     `cmd:"" help:"Write what the spec adds to the artwork: profile, edge copper, mask openings, routs, drills."`
	Notes      notesCommand      `cmd:"" help:"Write the numbered fabrication notes that follow from a board."`
	Queries    queriesCommand    `cmd:"" help:"List what a shop would have to ask: what the text answers, leaves open, leaves to the shop."`
	Draw       drawCommand       `cmd:"" help:"Draw a board on sheets for the shop: faces, sections, details, tables, notes."`
	Checklist  checklistCommand  `cmd:"" help:"Draw the sheet on which the first boards of an order are measured: what, where, limit."`
	Pack       packCommand       `cmd:"" help:"Pack all that a shop builds from into one archive: cover, drawing, notes, queries, report, layers."`
	Fmt        fmtCommand        `cmd:"" help:"Bring files into canonical form."`
	Explain    explainCommand    `cmd:"" help:"Explain a rule, a limit, a keyword or a unit."`
	Watch      watchCommand      `cmd:"" help:"Show the live picture of a board in a browser, redrawn with every change of its files."`
	New        newCommand        `cmd:"" help:"Write a commented board to start from."`
	Lsp        lspCommand        `cmd:"" help:"Serve editors: the language server, on standard input and output."`
	Completion completionCommand `cmd:"" help:"Write a script that lets a shell complete what is typed: bash, zsh, fish."`
	Man        manCommand        `cmd:"" help:"Write the pages of the manual."`
	Version    versionCommand    `cmd:"" help:"Say which version this is, and the licences of what it is built of."`
}

// exitCode is how a command ends, handed through kong as an error.
type exitCode int

func (e exitCode) Error() string { return fmt.Sprintf("exit %d", int(e)) }

func main() {
	os.Exit(run(os.Args[1:], &streams{in: os.Stdin, out: os.Stdout, err: os.Stderr, colour: terminal(os.Stdout), live: terminal(os.Stderr)}))
}

// table is the one table of commands and options: what is typed is read by it, and
// help, completion and the manual come from it.
func table(s *streams, more ...kong.Option) (*kong.Kong, error) {
	return kong.New(&command{}, append(more,
		kong.Name("hemline"),
		kong.Description("A text language for boards whose edge is metal. "+wording.Caution+"\n\nExit codes: 0 clean, 1 findings, 2 could not run; each command's --help says its own."),
		kong.Vars{"sheets": strings.Join(sheetNames(), ",")},
		kong.Writers(s.out, s.err),
		kong.UsageOnError(),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.BindTo(context.Background(), (*context.Context)(nil)),
	)...)
}

// sheetNames are the sizes of sheets, as they are typed.
func sheetNames() (names []string) {
	for _, f := range sheet.Formats {
		names = append(names, f.Name)
	}
	return names
}

// lineEnded finds what kong says of an option at the end of the line that takes a value.
var lineEnded = regexp.MustCompile(`^--([a-z-]+): expected .* but got "EOL"`)

// refusal says what is wrong with a command line, and which help to read about it: the
// subcommand's where one was named.
func refusal(err error) string {
	text, help := err.Error(), "hemline --help"
	var parse *kong.ParseError
	if !errors.As(err, &parse) || parse.Context == nil {
		return text + "\nTry " + help + "."
	}
	if node := parse.Context.Selected(); node != nil {
		help = "hemline " + node.Name + " --help"
	}
	if m := lineEnded.FindStringSubmatch(text); m != nil {
		for _, f := range parse.Context.Flags() {
			if f.Name == m[1] {
				text = "--" + f.Name + " takes a value, which is missing: --" + f.Name + "=" + strings.Trim(f.FormatPlaceHolder(), `"`)
			}
		}
	}
	return text + "\nTry " + help + "."
}

// run runs one command and returns its exit code.
func run(args []string, s *streams) (code int) {
	exited := false
	parser, err := table(s, kong.Exit(func(c int) { code, exited = c, true }))
	if err != nil {
		s.fail("%s", err)
		return exitFailed
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	ctx, err := parser.Parse(args)
	switch {
	case exited:
		return code // --help was asked for and given
	case err != nil:
		s.fail("%s", refusal(err))
		return exitFailed
	}
	err = ctx.Run(s)
	var ended exitCode
	switch {
	case err == nil:
		return exitClean
	case errors.As(err, &ended):
		return int(ended)
	}
	s.fail("%s", err)
	return exitFailed
}
