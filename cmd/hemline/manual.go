package main

import (
	"regexp"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// described is what is told of a subcommand, or of the program itself: by the help,
// by shells that complete and on the manual's pages. All of it comes from the
// one table of commands, main.go.
type described struct {
	name     string   // "" for the program
	sum      string   // one sentence
	about    []string // paragraphs
	examples []string // command lines
	codes    string   // its own exit codes, which each command states
	options  []option
	operands []operand
}

// option is one that is named.
type option struct {
	long     string
	short    rune // 0 for none
	takes    string
	choices  []string
	fallback string // among choices
	help     string
	required bool
}

// operand is one that has no name on the line.
type operand struct {
	name           string
	many, optional bool
	choices        []string
	help           string
}

// manual is what is told of the program, and of each subcommand.
func manual(app *kong.Application) (program described, commands []described) {
	program = described{sum: app.Help, options: optionsOf(app.Node)}
	program.divide(app.Help)
	for _, node := range app.Children {
		e := described{name: node.Name, sum: node.Help, options: append(optionsOf(node), program.options...)}
		e.divide(node.Detail)
		for _, p := range node.Positional {
			e.operands = append(e.operands, operand{name: p.Name, many: p.IsCumulative(), optional: !p.Required, choices: choices(p), help: p.Help})
		}
		commands = append(commands, e)
	}
	return program, commands
}

func optionsOf(node *kong.Node) (list []option) {
	for _, f := range node.Flags {
		o := option{long: f.Name, short: f.Short, help: f.Help, required: f.Required}
		if !f.IsBool() {
			o.takes = strings.Trim(f.FormatPlaceHolder(), `"`)
			if o.choices = choices(f.Value); o.choices != nil {
				o.takes, o.fallback = strings.ToUpper(f.Name), f.Default
			}
		}
		list = append(list, o)
	}
	return list
}

func choices(v *kong.Value) []string {
	if v.Enum == "" {
		return nil
	}
	return v.EnumSlice()
}

var ownCodes = regexp.MustCompile(`^Exit codes: `)

// divide sorts what the help says at length: examples, exit codes, the rest.
func (e *described) divide(help string) {
	for part := range strings.SplitSeq(help, "\n\n") {
		switch lines := strings.Split(strings.TrimSpace(part), "\n"); {
		case part == "":
		case strings.HasPrefix(lines[0], "Example"):
			for _, line := range lines[1:] {
				e.examples = append(e.examples, strings.TrimSpace(line))
			}
		case ownCodes.MatchString(lines[0]):
			e.codes = ownCodes.ReplaceAllString(strings.Join(lines, " "), "")
		default:
			e.about = append(e.about, strings.TrimRight(part, "\n"))
		}
	}
}

// kinds of what an option or operand takes, as far as a shell can complete it.
const (
	takesNothing = ""
	takesAny     = "any" // a date, a scale, …
	takesBoards  = "boards"
	takesFile    = "file"
	takesFolder  = "folder"
	takesTopic   = "topic"
)

// kind is what an option takes.
func (o option) kind() string {
	switch {
	case o.takes == "":
		return takesNothing
	case strings.HasPrefix(o.takes, "SHOP"):
		return takesBoards
	case strings.HasPrefix(o.takes, "FILE"):
		return takesFile
	case o.takes == "FOLDER":
		return takesFolder
	}
	return takesAny
}

// kind is what an operand is.
func (o operand) kind() string {
	return map[string]string{"file": takesBoards, "old": takesBoards, "new": takesBoards, "folder": takesFolder, "name": takesTopic}[o.name]
}

// spelled are an option's names as they are typed.
func (o option) spelled() (list []string) {
	if o.short != 0 {
		list = append(list, "-"+string(o.short))
	}
	return append(list, "--"+o.long)
}

// allSpelled are the names of all of a command's options.
func (e described) allSpelled() (list []string) {
	for _, o := range e.options {
		list = append(list, o.spelled()...)
	}
	slices.Sort(list)
	return slices.Compact(list)
}
