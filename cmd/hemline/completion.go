package main

import (
	"fmt"
	"io"
	"strings"

	"hemline/checks/rules"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"The shell: ${enum}."`
}

// Help is shown under `hemline completion --help`.
func (completionCommand) Help() string {
	return `Writes a script that lets a shell complete subcommands, options, what these
take, files and the names that hemline explain knows.

Examples:
  source <(hemline completion bash)
  hemline completion bash > ~/.local/share/bash-completion/completions/hemline
  hemline completion zsh > ~/.zfunc/_hemline
  hemline completion fish > ~/.config/fish/completions/hemline.fish

Exit codes: 0 written, 2 could not run.`
}

// Run writes the script.
func (c completionCommand) Run(s *streams) error {
	app, err := table(s)
	if err != nil {
		return err
	}
	program, commands := manual(app.Model)
	write := map[string]func(*strings.Builder, described, []described){"bash": bashScript, "zsh": zshScript, "fish": fishScript}[c.Shell]
	var b strings.Builder
	write(&b, program, commands)
	_, err = io.WriteString(s.out, b.String())
	return err
}

func topics() string { return strings.Join(rules.All().Topics(), " ") }

func commandNames(commands []described) string {
	var names []string
	for _, e := range commands {
		names = append(names, e.name)
	}
	return strings.Join(names, " ")
}

// bashScript needs nothing but bash itself, 3.2 or newer.
func bashScript(b *strings.Builder, program described, commands []described) {
	fmt.Fprintf(b, `# hemline's completion for bash; "hemline completion bash" writes it.
_hemline() {
	local cur=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command= i
	COMPREPLY=()
	# bash parts --option=value at the sign
	if [[ $cur == = ]]; then
		cur=
	elif [[ $before == = ]]; then
		before=${COMP_WORDS[COMP_CWORD-2]}
	fi
	for ((i = 1; i < COMP_CWORD; i++)); do
		if [[ ${COMP_WORDS[i]} != -* ]]; then
			command=${COMP_WORDS[i]}
			break
		fi
	done
	case $command:$before in
`)
	for _, e := range commands {
		for _, o := range e.options {
			if o.takes == "" {
				continue
			}
			for _, name := range o.spelled() {
				fmt.Fprintf(b, "\t%s:%s) %s; return ;;\n", e.name, name, bashTakes(o.kind(), o.choices))
			}
		}
	}
	fmt.Fprintf(b, "\tesac\n\tif [[ $cur == -* ]]; then\n\t\tcase $command in\n")
	fmt.Fprintf(b, "\t\t'') _hemline_words %q ;;\n", strings.Join(program.allSpelled(), " "))
	for _, e := range commands {
		fmt.Fprintf(b, "\t\t%s) _hemline_words %q ;;\n", e.name, strings.Join(e.allSpelled(), " "))
	}
	fmt.Fprintf(b, "\t\tesac\n\t\treturn\n\tfi\n\tcase $command in\n")
	fmt.Fprintf(b, "\t'') _hemline_words %q ;;\n", commandNames(commands))
	for _, e := range commands {
		if len(e.operands) > 0 {
			fmt.Fprintf(b, "\t%s) %s ;;\n", e.name, bashTakes(e.operands[0].kind(), e.operands[0].choices))
		}
	}
	b.WriteString(`	esac
}
_hemline_words() {
	COMPREPLY=($(compgen -W "$1" -- "$cur"))
}
_hemline_files() {
	local IFS=$'\n'
	compopt -o filenames 2>/dev/null
	case $1 in
	boards) COMPREPLY=($(compgen -d -- "$cur") $(compgen -f -X '!*.hem' -- "$cur")) ;;
	file) COMPREPLY=($(compgen -f -- "$cur")) ;;
	folder) COMPREPLY=($(compgen -d -- "$cur")) ;;
	esac
}
complete -F _hemline hemline
`)
}

func bashTakes(kind string, choices []string) string {
	switch {
	case choices != nil:
		return fmt.Sprintf("_hemline_words %q", strings.Join(choices, " "))
	case kind == takesTopic:
		return fmt.Sprintf("_hemline_words %q", topics())
	case kind == takesAny:
		return ":"
	}
	return "_hemline_files " + kind
}

// zshScript is for a folder of zsh's functions, or to be sourced.
func zshScript(b *strings.Builder, program described, commands []described) {
	b.WriteString(`#compdef hemline
# hemline's completion for zsh; "hemline completion zsh" writes it.
_hemline() {
	local curcontext=$curcontext state line
	typeset -A opt_args
`)
	fmt.Fprintf(b, "\t_arguments -C \\\n%s\t\t'1:command:->command' \\\n\t\t'*::argument:->argument'\n", zshOptions(program))
	b.WriteString("\tcase $state in\n\tcommand)\n\t\tlocal -a commands=(\n")
	for _, e := range commands {
		fmt.Fprintf(b, "\t\t\t%s\n", zshQuote(e.name+":"+strings.ReplaceAll(e.sum, ":", `\:`)))
	}
	b.WriteString("\t\t)\n\t\t_describe command commands\n\t\t;;\n\targument)\n\t\tcase $words[1] in\n")
	for _, e := range commands {
		fmt.Fprintf(b, "\t\t%s)\n\t\t\t_arguments \\\n%s", e.name, zshOptions(e))
		for i, o := range e.operands {
			at := fmt.Sprint(i + 1)
			if o.many {
				at = "*"
			}
			fmt.Fprintf(b, "\t\t\t\t%s \\\n", zshQuote(at+":"+o.name+":"+zshTakes(o.kind(), o.choices)))
		}
		b.WriteString("\n\t\t\t;;\n")
	}
	b.WriteString(`		esac
		;;
	esac
}
if [[ $funcstack[1] == _hemline ]]; then
	_hemline "$@"
else
	compdef _hemline hemline
fi
`)
}

func zshOptions(e described) string {
	var b strings.Builder
	for _, o := range e.options {
		says := "[" + strings.NewReplacer("[", `\[`, "]", `\]`, ":", `\:`).Replace(o.help) + "]"
		takes := ""
		if o.takes != "" {
			takes = ":" + strings.ReplaceAll(o.takes, ":", `\:`) + ":" + zshTakes(o.kind(), o.choices)
		}
		names := o.spelled()
		for _, name := range names {
			sign := ""
			if takes != "" {
				if sign = "="; len(name) == 2 {
					sign = "+"
				}
			}
			fmt.Fprintf(&b, "\t\t\t\t%s \\\n", zshQuote("("+strings.Join(names, " ")+")"+name+sign+says+takes))
		}
	}
	return b.String()
}

func zshTakes(kind string, choices []string) string {
	switch {
	case choices != nil:
		return "(" + strings.Join(choices, " ") + ")"
	case kind == takesTopic:
		return "(" + topics() + ")"
	case kind == takesBoards:
		return `_files -g "*.hem(-.)"`
	case kind == takesFile:
		return "_files"
	case kind == takesFolder:
		return "_path_files -/"
	}
	return " "
}

func zshQuote(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

// fishScript is for fish's folder of completions.
func fishScript(b *strings.Builder, program described, commands []described) {
	b.WriteString("# hemline's completion for fish; \"hemline completion fish\" writes it.\ncomplete -c hemline -f\n")
	fishOptions(b, program, "__fish_use_subcommand")
	for _, e := range commands {
		fmt.Fprintf(b, "complete -c hemline -n __fish_use_subcommand -a %s -d %s\n", e.name, fishQuote(e.sum))
	}
	for _, e := range commands {
		at := "__fish_seen_subcommand_from " + e.name
		for _, o := range e.operands {
			if takes := fishTakes(o.kind(), o.choices); takes != "" {
				fmt.Fprintf(b, "complete -c hemline -n %s %s\n", fishQuote(at), takes)
			}
		}
		fishOptions(b, e, at)
	}
}

func fishOptions(b *strings.Builder, e described, at string) {
	for _, o := range e.options {
		fmt.Fprintf(b, "complete -c hemline -n %s -l %s", fishQuote(at), o.long)
		if o.short != 0 {
			fmt.Fprintf(b, " -s %c", o.short)
		}
		if o.takes != "" {
			fmt.Fprintf(b, " -x %s", fishTakes(o.kind(), o.choices))
		}
		fmt.Fprintf(b, " -d %s\n", fishQuote(o.help))
	}
}

func fishTakes(kind string, choices []string) string {
	switch {
	case choices != nil:
		return "-a " + fishQuote(strings.Join(choices, " "))
	case kind == takesTopic:
		return "-a " + fishQuote(topics())
	case kind == takesBoards:
		return "-k -a '(__fish_complete_suffix .hem)'"
	case kind == takesFile:
		return "-F"
	case kind == takesFolder:
		return "-a '(__fish_complete_directories)'"
	}
	return ""
}

func fishQuote(text string) string {
	return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(text) + "'"
}
