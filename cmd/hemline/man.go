package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"hemline/lang/emit/bundle"
	"hemline/lang/emit/wording"
)

type manCommand struct {
	Folder string `arg:"" help:"The folder to write the pages into; it must be there."`
}

// Help is shown under `hemline man --help`.
func (manCommand) Help() string {
	return `Writes the manual's pages: hemline.1, and one for each subcommand, such as
hemline-check.1. They say what --help says. Their date is that of
SOURCE_DATE_EPOCH, where it is set.

Examples:
  mkdir -p ~/.local/share/man/man1 && hemline man ~/.local/share/man/man1
  hemline man . && man ./hemline-check.1

Exit codes: 0 written, 2 could not run.`
}

// Run writes the pages.
func (c manCommand) Run(s *streams) error {
	if info, err := os.Stat(c.Folder); err != nil {
		return fmt.Errorf("%s: %w", c.Folder, cause(err))
	} else if !info.IsDir() {
		return fmt.Errorf("%s is no folder", c.Folder)
	}
	app, err := table(s)
	if err != nil {
		return err
	}
	date := ""
	switch made, err := creation(""); {
	case err != nil:
		return err
	case !made.IsZero():
		date = made.Format(time.DateOnly)
	}
	program, commands := manual(app.Model)
	files := []bundle.File{{Name: filepath.Join(c.Folder, "hemline.1"), Data: []byte(manPage(program, commands, date))}}
	for _, e := range commands {
		files = append(files, bundle.File{Name: filepath.Join(c.Folder, "hemline-"+e.name+".1"), Data: []byte(manPage(e, nil, date))})
	}
	if err := writeAll(files); err != nil {
		return err
	}
	return s.say("%s: %s", c.Folder, wording.Plural(len(files), "page"))
}

// manPage is a page of the manual in the language of man(7). That of the program
// lists the subcommands.
func manPage(e described, commands []described, date string) string {
	title := "hemline"
	if e.name != "" {
		title += "-" + e.name
	}
	sum, about := e.sum, e.about
	if e.name == "" {
		sum, about = "a text language for boards whose edge is metal", []string{wording.Caution, "Without a subcommand the help is shown."}
	}
	var b strings.Builder
	fmt.Fprintf(&b, ".TH %s 1 \"%s\" \"hemline %s\" hemline\n", strings.ToUpper(roff(title)), date, roff(release()))
	fmt.Fprintf(&b, ".SH NAME\n%s \\- %s\n.SH SYNOPSIS\n%s", roff(title), roff(strings.TrimSuffix(sum, ".")), synopsis(e, commands))
	b.WriteString(".SH DESCRIPTION\n")
	for i, text := range about {
		if i > 0 {
			b.WriteString(".PP\n")
		}
		b.WriteString(lines(text))
	}
	if len(about) == 0 {
		b.WriteString(lines(sum))
	}
	if len(e.operands) > 0 {
		b.WriteString(".SH OPERANDS\n")
		for _, o := range e.operands {
			fmt.Fprintf(&b, ".TP\n.I %s\n%s", roff(o.name), lines(o.help))
		}
	}
	if len(commands) > 0 {
		b.WriteString(".SH COMMANDS\n")
		for _, c := range commands {
			fmt.Fprintf(&b, ".TP\n.BR hemline\\-%s (1)\n%s", roff(c.name), lines(c.sum))
		}
	}
	b.WriteString(".SH OPTIONS\n")
	for _, o := range e.options {
		fmt.Fprintf(&b, ".TP\n%s\n%s", o.roff(), lines(o.help))
	}
	b.WriteString(".SH EXIT STATUS\n" + exitStatus(e))
	if len(e.examples) > 0 {
		b.WriteString(".SH EXAMPLES\n.nf\n.RS 4\n")
		for _, line := range e.examples {
			b.WriteString(roffLine(line))
		}
		b.WriteString(".RE\n.fi\n")
	}
	if e.name != "" {
		b.WriteString(".SH SEE ALSO\n.BR hemline (1)\n")
	}
	return b.String()
}

func synopsis(e described, commands []described) string {
	if commands != nil {
		return ".B hemline\n.I command\n[\\fIoptions\\fR] [\\fIoperands\\fR]\n"
	}
	text := ".B hemline " + roff(e.name) + "\n"
	for _, o := range e.options {
		if o.required {
			text += o.roff() + "\n"
		}
	}
	text += "[\\fIoptions\\fR]\n"
	for _, o := range e.operands {
		name := `\fI` + roff(o.name) + `\fR`
		if o.many {
			name += " ..."
		}
		if o.optional {
			name = "[" + name + "]"
		}
		text += name + "\n"
	}
	return text
}

// roff is an option with what it takes.
func (o option) roff() string {
	var names []string
	for _, name := range o.spelled() {
		names = append(names, `\fB`+roff(name)+`\fR`)
	}
	text := strings.Join(names, ", ")
	if o.takes != "" {
		text += `=\fI` + roff(o.takes) + `\fR`
	}
	if o.choices != nil {
		text += fmt.Sprintf(" (default %s)", roff(o.fallback))
	}
	return text
}

func exitStatus(e described) string {
	var b strings.Builder
	for part := range strings.SplitSeq(strings.TrimSuffix(e.codes, "."), ", ") {
		code, means, _ := strings.Cut(part, " ")
		fmt.Fprintf(&b, ".TP\n.B %s\n%s", code, lines(means))
	}
	return b.String()
}

// lines is a paragraph of text, its lines as they are.
func lines(text string) string {
	var b strings.Builder
	for line := range strings.SplitSeq(text, "\n") {
		b.WriteString(roffLine(line))
	}
	return b.String()
}

// roffLine is a line of text, which no sign at its start makes a request.
func roffLine(line string) string {
	if line = roff(line); strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
		line = `\&` + line
	}
	return line + "\n"
}

// roff writes text so that it stands as it is: a hyphen that is typed is no dash.
func roff(text string) string {
	return strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`).Replace(text)
}
