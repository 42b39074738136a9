// Package editortest is what the tests of the editors share: the tools they
// need, a server built for them, and what each word of a text should be
// highlighted as.
package editortest

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf16"
	"unicode/utf8"

	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// Missing skips a test whose tool is absent, or fails it where HEMLINE_CI=1
// asks for the tool.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("HEMLINE_CI") == "1" {
		t.Fatalf("%s is not here, and HEMLINE_CI=1 asks for it", what)
	}
	t.Skipf("%s is not here", what)
}

// Tool is the path of a program; without it the test is Missing it.
func Tool(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		Missing(t, name)
	}
	return path
}

// Program builds the server and returns its absolute path.
func Program(t testing.TB) string {
	t.Helper()
	for _, folder := range []string{"cmd", "lang", "lsp", "checks"} {
		look(t, filepath.Join(moduleRoot(t), folder))
	}
	look(t, ".")
	program := filepath.Join(t.TempDir(), "bin", "hemline")
	output, err := exec.Command("go", "build", "-o", program, "hemline/cmd/hemline").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, output)
	}
	return program
}

// look reads the names in a folder and in those below it. Go keeps a test's
// result for as long as what the test itself has looked at is the same, and
// knows nothing of what its children read.
func look(t testing.TB, folder string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(_ string, entry fs.DirEntry, err error) error {
		if err == nil && entry.IsDir() && (entry.Name() == "node_modules" || entry.Name() == "out") {
			return fs.SkipDir
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func moduleRoot(t testing.TB) string {
	t.Helper()
	folder, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder
		}
		if folder == filepath.Dir(folder) {
			t.Fatal("no go.mod above the test")
		}
		folder = filepath.Dir(folder)
	}
}

// Run runs a command with a limit of time and returns what it wrote on its
// standard output. Additions to the environment are NAME=VALUE.
func Run(t testing.TB, limit time.Duration, environment []string, name string, arguments ...string) string {
	t.Helper()
	return run(t, limit, environment, "", name, arguments)
}

// Pipe is Run for a command that reads its standard input.
func Pipe(t testing.TB, limit time.Duration, input, name string, arguments ...string) string {
	t.Helper()
	return run(t, limit, nil, input, name, arguments)
}

func run(t testing.TB, limit time.Duration, environment []string, input, name string, arguments []string) string {
	t.Helper()
	look(t, ".")
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	cmd := exec.CommandContext(ctx, name, arguments...)
	cmd.Env = append(os.Environ(), environment...)
	cmd.WaitDelay = time.Second // a grandchild may hold the output open
	cmd.Stdin = strings.NewReader(input)
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s%s", name, err, tail(stdout.String()), tail(stderr.String()))
	}
	return stdout.String()
}

func tail(text string) string {
	const most = 4000
	return text[max(0, len(text)-most):]
}

// Steps reads the lines NAME TAB VALUE of a transcript.
func Steps(output string) map[string]string {
	steps := map[string]string{}
	for line := range strings.Lines(output) {
		if name, value, ok := strings.Cut(strings.TrimSpace(line), "\t"); ok {
			steps[name] = value
		}
	}
	return steps
}

// Class is what a word is highlighted as.
type Class string

// The classes. A name is shown in some editors and plain in others.
const (
	Comment   Class = "comment"
	Text      Class = "text"
	Number    Class = "number"
	Unit      Class = "unit"
	Statement Class = "statement"
	Clause    Class = "clause"
	Constant  Class = "constant"
	Function  Class = "function"
	Name      Class = "name"
)

// Word is a token of a text. Line counts from 0; the columns are those of its
// first character, in bytes, in UTF-16 and in code points; Last are those of
// its last.
type Word struct {
	Text  string `json:"text"`
	Class Class  `json:"class"`
	Line  int    `json:"line"`
	Bytes int    `json:"bytes"`
	UTF16 int    `json:"utf16"`
	Runes int    `json:"runes"`
	Last  Columns
}

// Columns are one place on a line, counted in three ways.
type Columns struct{ Bytes, UTF16, Runes int }

// Words are the tokens of a text that highlighting tells apart, by the
// language's own lexer.
func Words(text string) (list []Word) {
	line, start := 0, 0
	constants := append([]string{syntax.Middle, syntax.All, syntax.Top, syntax.Bottom}, syntax.Offers...)
	for _, token := range syntax.Lex(text) {
		word := text[token.Start:token.End]
		if token.Kind == syntax.Newline {
			line, start = line+1, int(token.End)
			continue
		}
		class, ok := classOf(token.Kind, word, constants)
		if !ok {
			continue
		}
		_, size := utf8.DecodeLastRuneInString(word)
		first, last := columns(text[start:token.Start]), columns(text[start:int(token.End)-size])
		list = append(list, Word{Text: word, Class: class, Line: line, Bytes: first.Bytes, UTF16: first.UTF16, Runes: first.Runes, Last: last})
	}
	return list
}

func columns(before string) Columns {
	return Columns{Bytes: len(before), UTF16: len(utf16.Encode([]rune(before))), Runes: utf8.RuneCountInString(before)}
}

func classOf(kind syntax.Kind, word string, constants []string) (Class, bool) {
	switch kind {
	case syntax.Comment:
		return Comment, true
	case syntax.Text:
		return Text, true
	case syntax.Number:
		return Number, true
	case syntax.Unit:
		return Unit, true
	case syntax.Function:
		return Function, true
	case syntax.Keyword:
		if syntax.StatementNamed(word) != nil {
			return Statement, true
		}
		if slices.Contains(constants, word) { // a clause that is a shop's word too
			return Constant, true
		}
		return Clause, true
	case syntax.Name:
		if slices.Contains(constants, word) {
			return Constant, true
		}
		return Name, true
	}
	return "", false
}

// EveryWord is a text that has each word of the vocabulary, each unit and
// function, and what only looks like one of them.
func EveryWord() string {
	var b strings.Builder
	for _, word := range syntax.Keywords() {
		fmt.Fprintf(&b, "%s %sx x.%s %s.x \"%s\" // %s\n", word, word, word, word, word, word)
	}
	for _, word := range append([]string{syntax.Middle, syntax.All, syntax.Top, syntax.Bottom}, syntax.Offers...) {
		fmt.Fprintf(&b, "%s %s_ wall.%s\n", word, word, word)
	}
	for _, unit := range quantity.Units() {
		fmt.Fprintf(&b, "1 %s 2.5%s 1e3 %s 7 %sx\n", unit.Name, unit.Name, unit.Name, unit.Name)
	}
	for _, function := range quantity.Functions() {
		fmt.Fprintf(&b, "%s(1) %s (1) %s x\n", function.Name, function.Name, function.Name)
	}
	b.WriteString("\"µ🛠 say \\\"let\\\" \\\\\" let // and 5 mm \"not a text\"\n")
	b.WriteString("let größe = 3 mm\nlet größe.let\n\"not closed\nlet a=b+c-d*e/f\n")
	return b.String()
}

// Samples are the texts that highlighting is tried on, by name: the examples
// and EveryWord.
func Samples(t testing.TB) map[string]string {
	t.Helper()
	samples := map[string]string{"every word": EveryWord()}
	for _, pattern := range []string{"*.hem", "*/*.hem"} {
		files, err := filepath.Glob(filepath.Join(moduleRoot(t), "examples", pattern))
		if err != nil || len(files) == 0 {
			t.Fatalf("no examples: %v", err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			samples[filepath.Base(filepath.Dir(file))+"/"+filepath.Base(file)] = string(text)
		}
	}
	return samples
}

// Expected is how many findings a broken example says that it has: the rules
// named at the ends of its lines.
func Expected(t testing.TB, name string) (n int) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(moduleRoot(t), "examples", name))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if _, rules, ok := strings.Cut(line, "// finds "); ok {
			n += len(strings.Fields(rules))
		}
	}
	return n
}

// VimGroups are the classes of the groups in the file that Vim and Neovim share.
var VimGroups = map[string]Class{
	"hemStatement": Statement, "hemClause": Clause, "hemWord": Constant, "hemFunction": Function,
	"hemName": Name, "hemNumber": Number, "hemUnit": Unit, "hemComment": Comment, "hemText": Text,
}

// CompareAt is Compare for an editor that is asked what stands at a place. Ask
// gets a file with the text, and a list of [line, column] as JSON with two
// places for each word, both from 0; its answer is a list in JSON of what the
// editor calls what stands there. Column takes the count that the editor goes by.
func CompareAt(t testing.TB, sample, text string, column func(Columns) int, classes map[string]Class, ask func(file, list string) string) {
	t.Helper()
	words := Words(text)
	var places [][2]int
	for _, w := range words {
		first := Columns{Bytes: w.Bytes, UTF16: w.UTF16, Runes: w.Runes}
		places = append(places, [2]int{w.Line, column(first)}, [2]int{w.Line, column(w.Last)})
	}
	data, err := json.Marshal(places)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file, list := filepath.Join(dir, "sample.hem"), filepath.Join(dir, "places.json")
	for name, content := range map[string][]byte{file: []byte(text), list: data} {
		if err := os.WriteFile(name, content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var called []string
	if err := json.Unmarshal([]byte(ask(file, list)), &called); err != nil {
		t.Fatalf("%s: %v", sample, err)
	}
	if len(called) != len(places) {
		t.Fatalf("%s: %d places, and %d answers", sample, len(places), len(called))
	}
	shown := make([][2]Class, len(words))
	for i := range shown {
		shown[i] = [2]Class{classes[called[2*i]], classes[called[2*i+1]]}
	}
	Compare(t, sample, words, shown)
}

// Compare fails the test for each word that an editor shows as something
// else, the first few of them. Shown is a class for the first and the last
// character of each word.
func Compare(t testing.TB, sample string, words []Word, shown [][2]Class) {
	t.Helper()
	if len(shown) != len(words) || len(words) == 0 {
		t.Fatalf("%s: %d words, and %d shown", sample, len(words), len(shown))
	}
	wrong := 0
	for i, word := range words {
		for _, class := range shown[i] {
			if class == word.Class || word.Class == Name && class == "" {
				continue
			}
			if wrong++; wrong <= 5 {
				t.Errorf("%s:%d:%d: %q is shown as %q, want %q", sample, word.Line+1, word.Runes+1, word.Text, shown[i], word.Class)
			}
			break
		}
	}
	if wrong > 5 {
		t.Errorf("%s: and %d more", sample, wrong-5)
	}
}
