package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/rules"
)

// tool is the path of a program that a test needs. Where it is not there the test
// is skipped, unless HEMLINE_CI is set.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "%s is needed where HEMLINE_CI is set", name)
		t.Skip(name + " is not installed")
	}
	return path
}

// told runs hemline and returns what it said.
func told(t *testing.T, args ...string) string {
	t.Helper()
	var out, err strings.Builder
	require.Equal(t, exitClean, run(args, &streams{out: &out, err: &err}), err.String())
	return out.String()
}

// typing is a folder with files to complete, and a shell's script in it.
func typing(t *testing.T, shell string) (dir, script string) {
	t.Helper()
	dir = t.TempDir()
	for _, name := range []string{"one.hem", "two words.hem", "letter.txt", "deep/in.hem"} {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o644))
	}
	script = filepath.Join(t.TempDir(), "script")
	require.NoError(t, os.WriteFile(script, []byte(told(t, "completion", shell)), 0o644))
	return dir, script
}

// What a shell offers for what has been typed: some of it, and none of the rest.
var typed = []struct {
	line     string
	has, not []string
}{
	{"hemline ch", []string{"check", "checklist"}, []string{"report", "one.hem"}},
	{"hemline check --fo", []string{"--format"}, []string{"--fix", "--sheet"}},
	{"hemline check --format ", []string{"text", "json"}, []string{"markdown", "one.hem"}},
	{"hemline report --format ma", []string{"markdown"}, []string{"text"}},
	{"hemline check o", []string{"one.hem"}, []string{"letter.txt"}},
	{"hemline check --with ", []string{"one.hem"}, []string{"letter.txt"}},
	{"hemline notes one.hem -o ", []string{"letter.txt", "one.hem"}, nil},
	{"hemline layers one.hem -o ", []string{"deep"}, []string{"letter.txt", "one.hem"}},
	{"hemline explain wrap_l", []string{"wrap_land"}, []string{"plating"}},
	{"hemline completion ", []string{"bash", "zsh", "fish"}, []string{"one.hem"}},
	{"hemline --h", []string{"--help"}, nil},
}

func offered(t *testing.T, line string, list, has, not []string) {
	t.Helper()
	for i := range list {
		list[i] = strings.TrimRight(list[i], "/")
	}
	for _, word := range has {
		assert.Contains(t, list, word, line)
	}
	for _, word := range not {
		assert.NotContains(t, list, word, line)
	}
}

// keys types into a shell on a terminal of its own, and returns what the terminal showed.
func keys(t *testing.T, dir, shell, input string) string {
	t.Helper()
	cmd := exec.Command(tool(t, "script"), "-qec", shell, "/dev/null")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "TERM=dumb", "PS1=> ", "HOME="+t.TempDir(), "COLUMNS=200", "LINES=100")
	cmd.Stdin = strings.NewReader(input)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	return string(out)
}

func TestCompletionInBash(t *testing.T) {
	bash := tool(t, "bash")
	dir, script := typing(t, "bash")
	for _, c := range append(slices.Clone(typed), struct {
		line     string
		has, not []string
	}{"hemline check --format=j", []string{"json"}, []string{"text"}}) {
		// As bash parts the line: at blanks and at "=".
		words := strings.Fields(strings.ReplaceAll(c.line, "=", " = "))
		if strings.HasSuffix(c.line, " ") {
			words = append(words, "")
		}
		quoted := make([]string, len(words))
		for i, w := range words {
			quoted[i] = "'" + w + "'"
		}
		cmd := exec.Command(bash, "--norc", "-c", `source "$1"; COMP_WORDS=(`+strings.Join(quoted, " ")+`); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _hemline; printf '%s\n' "${COMPREPLY[@]}"`, "bash", script)
		cmd.Dir = dir
		out, err := cmd.Output()
		require.NoError(t, err)
		offered(t, c.line, strings.Split(strings.TrimSpace(string(out)), "\n"), c.has, c.not)
	}
	// On a terminal, with keys.
	out := keys(t, dir, bash+" --norc -i", "source "+script+"\nhemline() { printf 'got<%s>' \"$@\"; echo; }\nhemline chec\t\t\nhemline rep\tt\t --fo\tjs\t\nhemline explain wrap_lan\t\nexit\n")
	assert.Contains(t, out, "got<report>got<two words.hem>got<--format>got<json>")
	assert.Contains(t, out, "got<explain>got<wrap_land>")
}

func TestCompletionInZsh(t *testing.T) {
	zsh := tool(t, "zsh")
	dir, script := typing(t, "zsh")
	out := keys(t, dir, zsh+" -f -i", "autoload -U compinit && compinit -D -u\nsource "+script+"\nhemline() { printf 'got<%s>' \"$@\"; echo }\n"+
		"hemline rep\t tw\t --format=js\t\nhemline explain wrap_lan\t\nhemline layers one.hem -o dee\t\nhemline layers one.hem -o let\t\nhemline check --wit\tone\t o\t\nexit\n")
	assert.Contains(t, out, "got<report>got<two words.hem>got<--format=json>")
	assert.Contains(t, out, "got<explain>got<wrap_land>")
	assert.Contains(t, out, "got<layers>got<one.hem>got<-o>got<deep>")
	assert.Contains(t, out, "got<layers>got<one.hem>got<-o>got<let>", "a letter is no folder")
	assert.Contains(t, out, "got<check>got<--with=one.hem>got<one.hem>")
}

func TestCompletionInFish(t *testing.T) {
	fish := tool(t, "fish")
	dir, script := typing(t, "fish")
	for _, c := range typed {
		cmd := exec.Command(fish, "--no-config", "-c", "source $argv[1]; complete -C $argv[2]", script, c.line)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "HOME="+t.TempDir())
		out, err := cmd.Output()
		require.NoError(t, err)
		var list []string
		for line := range strings.Lines(string(out)) {
			word, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
			list = append(list, word)
		}
		if strings.Contains(c.line, "check o") || strings.Contains(c.line, "--with") {
			c.not = nil // it offers those that end so first, and others after
		}
		offered(t, c.line, list, c.has, c.not)
	}
}

// Each option that takes something says what, so that a shell can complete it, and
// each name that is completed after explain is explained.
func TestTheTableOfCommandsSaysWhatIsTaken(t *testing.T) {
	app, err := table(&streams{out: &strings.Builder{}, err: &strings.Builder{}})
	require.NoError(t, err)
	_, commands := manual(app.Model)
	require.Len(t, commands, len(app.Model.Children))
	known := regexp.MustCompile(`^(SHOP(,\.\.\.)?|FILE(\.zip)?|FOLDER|X,Y|IDENT|STRING)$`)
	for _, e := range commands {
		assert.NotEmpty(t, e.sum, e.name)
		for _, o := range e.options {
			assert.NotEmpty(t, o.help, "%s --%s", e.name, o.long)
			assert.True(t, o.takes == "" || o.choices != nil || known.MatchString(o.takes), "%s --%s takes %s, which no kind of takes fits", e.name, o.long, o.takes)
		}
		for _, o := range e.operands {
			assert.True(t, o.kind() != "" || o.choices != nil, "%s %s", e.name, o.name)
		}
	}
	for _, name := range rules.All().Topics() {
		_, ok := rules.All().Explain(name)
		assert.True(t, ok, name)
	}
}

// Readers of manual pages have nothing to complain of, and a page says what the help says.
func TestPagesOfTheManual(t *testing.T) {
	groff, mandoc := tool(t, "groff"), tool(t, "mandoc")
	t.Setenv("SOURCE_DATE_EPOCH", "1780000000")
	dir := t.TempDir()
	assert.Contains(t, told(t, "man", dir), ": 19 pages")
	pages, err := filepath.Glob(filepath.Join(dir, "*.1"))
	require.NoError(t, err)
	require.Len(t, pages, 19)
	for _, path := range pages {
		out, err := exec.Command(groff, "-man", "-Tutf8", "-ww", "-z", path).CombinedOutput()
		require.NoError(t, err)
		assert.Empty(t, string(out), path)
		out, _ = exec.Command(mandoc, "-T", "lint", "-W", "warning", path).CombinedOutput()
		assert.Empty(t, string(out), path)
	}
	out, err := exec.Command(mandoc, "-T", "ascii", "-O", "width=500", filepath.Join(dir, "hemline-check.1")).Output()
	require.NoError(t, err)
	text := regexp.MustCompile(".\x08").ReplaceAllString(string(out), "")
	for _, says := range []string{"2026-05-28", "--fail-on=FAIL-ON (default tidy)", "hemline check - < board.hem", "findings at or above --fail-on", "hemline check [options] file ..."} {
		assert.Contains(t, text, says)
	}
}

// TestExitCodes holds that every command states its own exit codes, each with what it
// means, and that one that ends with 1 for findings alone says so.
func TestExitCodes(t *testing.T) {
	app, err := table(&streams{out: &strings.Builder{}, err: &strings.Builder{}})
	require.NoError(t, err)
	program, commands := manual(app.Model)
	assert.Contains(t, program.codes, "each command's --help says its own")
	for _, e := range commands {
		assert.Regexp(t, `^0 [a-z].*, 2 [a-z].*\.$`, e.codes, e.name)
		if slices.Contains([]string{"report", "explain", "watch", "new", "completion", "man", "version"}, e.name) {
			assert.NotContains(t, e.codes, ", 1 ", e.name)
		}
	}
}

// TestEndsAsItsHelpSays runs commands on a board with findings and on a text that cannot be
// read in full: each ends with a code that its help states.
func TestEndsAsItsHelpSays(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.WriteFile(at("found.hem"), []byte("outline rectangle 60 mm by 40 mm\nplating wall { along south; net GND; wrap top 0.1 mm }\n"), 0o666))
	require.NoError(t, os.WriteFile(at("unread.hem"), []byte("outline rectangle 60 mm by 40 mm\nnonsense\n"), 0o666))
	require.NoError(t, os.WriteFile(at("lost.hem"), []byte("outlines rectangle 60 mm by 40 mm\n"), 0o666))
	app, err := table(&streams{out: &strings.Builder{}, err: &strings.Builder{}})
	require.NoError(t, err)
	_, commands := manual(app.Model)
	for line, want := range map[string]int{
		"check found.hem": 1, "report found.hem": 0, "notes found.hem": 0, "layers found.hem -o layers": 0, "draw found.hem -o a.svg": 0, "checklist found.hem -o a.pdf": 0,
		"pack found.hem -o a.zip": 1, "queries found.hem": 1, "fmt --check found.hem": 1, "shops found.hem --with found.hem": 2,
		"check unread.hem": 1, "report unread.hem": 0, "notes unread.hem": 1, "layers unread.hem -o l": 1, "draw unread.hem -o b.svg": 0, "draw lost.hem -o c.svg": 1, "checklist unread.hem -o b.pdf": 1,
		"report gone.hem": 2, "explain plating": 0, "explain nothing_of_the_kind": 2, "new found.hem": 2, "new new.hem": 0, "man gone": 2, "man .": 0,
		"completion bash": 0, "version": 0,
	} {
		args := strings.Fields(line)
		for i := 1; i < len(args); i++ {
			if strings.Contains(args[i], ".") || args[i-1] == "-o" || args[0] == "man" {
				args[i] = at(args[i])
			}
		}
		var said strings.Builder
		code := run(args, &streams{out: &said, err: &said})
		assert.Equal(t, want, code, "%s: %s", line, said.String())
		e := commands[slices.IndexFunc(commands, func(e described) bool { return e.name == args[0] })]
		assert.Regexp(t, fmt.Sprintf("(^|, )%d ", code), e.codes, line)
	}
}
