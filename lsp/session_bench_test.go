package lsp

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"log"
	"net/textproto"
	"strconv"
	"strings"
	"testing"
)

// longBoard has about so many lines: a head, and blocks of a comment, a let, a
// gap, two features and a blank line. The result's line is that of a gap in the
// middle, column that behind the plating's name in it.
func longBoard(lines int) (text string, line, column int) {
	var b strings.Builder
	blocks := (lines - 18) / 6
	fmt.Fprintf(&b, `hem 1
fabricator bench {
  offers edge_plating
  limit tab_spacing maximum 3 m
  limit tab_count minimum 0
  limit plated_share maximum 100 %%
}
board bench_board { thickness 1.6 mm }
outline rectangle %d mm by 60 mm
plating wall {
  along south north
  net GND
  copper 25 um
  wrap top 0.6 mm
  wrap bottom 0.6 mm
  extend 0.1 mm
}

`, 6*blocks+100)
	for i := range blocks {
		if i == blocks/2 {
			line = strings.Count(b.String(), "\n") + 2
			column = len(fmt.Sprintf("gap g%d of wall", i))
		}
		fmt.Fprintf(&b, `// note%[1]d of the row
let x%[1]d = %[1]d * 6 mm
gap g%[1]d of wall on south at x%[1]d width 2 mm
feature f%[1]d on top rectangle 1 mm by 2 mm at (x%[1]d, 30 mm) net N%[1]d
feature k%[1]d on bottom circle 1 mm at (x%[1]d + 3 mm, 40 mm) net N%[1]d

`, i)
	}
	return b.String(), line, column
}

// bench is a client that does nothing but wait.
type bench struct {
	tb      testing.TB
	server  *server
	in      io.Writer
	out     *bufio.Reader
	body    []byte
	line    int
	column  int
	version int
	id      int
}

const benchURI = "file:///nowhere/bench.hem"

// newBench opens a board of so many lines in a server of its own.
func newBench(tb testing.TB, lines int) *bench {
	tb.Helper()
	return newBenchIn(tb, lines, `{"capabilities":{"textDocument":{"documentSymbol":{"hierarchicalDocumentSymbolSupport":true}}}}`)
}

func newBenchIn(tb testing.TB, lines int, initialize string) *bench {
	tb.Helper()
	text, line, column := longBoard(lines)
	toServer, in := pipe(tb)
	out, fromServer := pipe(tb)
	server := newServer(DefaultEngine(), log.New(io.Discard, "", 0), "test")
	go server.serve(context.Background(), toServer, fromServer)
	b := &bench{tb: tb, server: server, in: in, out: bufio.NewReaderSize(out, 1<<20), line: line, column: column}
	b.request("initialize", initialize)
	b.send(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":%q,"version":0,"languageId":"hem","text":%q}}}`, benchURI, text)
	b.receive()
	return b
}

func (b *bench) send(format string, args ...any) {
	if _, err := io.WriteString(b.in, frame(fmt.Sprintf(format, args...))); err != nil {
		b.tb.Fatal(err)
	}
}

// receive reads one message.
func (b *bench) receive() []byte {
	header, err := textproto.NewReader(b.out).ReadMIMEHeader()
	if err != nil {
		b.tb.Fatal(err)
	}
	n, _ := strconv.Atoi(header.Get("Content-Length"))
	b.body = append(b.body[:0], make([]byte, n)...)
	if _, err := io.ReadFull(b.out, b.body); err != nil {
		b.tb.Fatal(err)
	}
	return b.body
}

func (b *bench) request(method, params string) []byte {
	b.id++
	b.send(`{"jsonrpc":"2.0","id":%d,"method":%q,"params":%s}`, b.id, method, params)
	answer := fmt.Appendf(nil, `"id":%d`, b.id)
	for {
		if body := b.receive(); bytes.Contains(body[:min(len(body), 40)], answer) {
			return body
		}
	}
}

// change types one character that makes an error, or takes it away again.
func (b *bench) change() {
	b.version++
	end, text := b.column, "x"
	if b.version%2 == 0 {
		end, text = b.column+1, ""
	}
	b.send(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":%d},"contentChanges":[{"range":{"start":{"line":%d,"character":%d},"end":{"line":%d,"character":%d}},"text":%q}]}}`,
		benchURI, b.version, b.line, b.column, b.line, end, text)
}

// keystroke changes the text and waits for the findings of that version.
func (b *bench) keystroke() {
	b.change()
	want := fmt.Appendf(nil, `"version":%d,`, b.version)
	for !bytes.Contains(b.receive(), want) {
	}
}

func (b *bench) at(character int) string {
	return fmt.Sprintf(`{"textDocument":{"uri":%q},"position":{"line":%d,"character":%d}}`, benchURI, b.line, character)
}

// BenchmarkSession measures from outside what a person waits for: from a
// message written into one pipe to its answer read from another.
func BenchmarkSession(b *testing.B) {
	doc := fmt.Sprintf(`{"textDocument":{"uri":%q}}`, benchURI)
	for _, lines := range []int{100, 1_000, 10_000} {
		for _, what := range []struct {
			name string
			do   func(c *bench)
		}{
			{"keystroke", (*bench).keystroke},
			{"burst", func(c *bench) {
				for range 99 {
					c.change()
				}
				c.keystroke()
			}},
			{"hover", func(c *bench) { c.request("textDocument/hover", c.at(c.column-2)) }},
			{"completion", func(c *bench) { c.request("textDocument/completion", c.at(c.column-2)) }},
			{"completion after an edit", func(c *bench) {
				c.change()
				c.request("textDocument/completion", c.at(c.column-2))
			}},
			{"outline", func(c *bench) { c.request("textDocument/documentSymbol", doc) }},
			{"outline after an edit", func(c *bench) {
				c.change()
				c.request("textDocument/documentSymbol", doc)
			}},
			{"tokens", func(c *bench) { c.request("textDocument/semanticTokens/full", doc) }},
			{"tokens after an edit", func(c *bench) {
				c.change()
				c.request("textDocument/semanticTokens/full", doc)
			}},
			{"formatting", func(c *bench) { c.request("textDocument/formatting", doc) }},
			{"formatting after an edit", func(c *bench) {
				c.change()
				c.request("textDocument/formatting", doc)
			}},
		} {
			b.Run(fmt.Sprintf("%s/%d", what.name, lines), func(b *testing.B) {
				c := newBench(b, lines)
				what.do(c)
				b.ReportAllocs()
				for b.Loop() {
					what.do(c)
				}
			})
		}
		b.Run(fmt.Sprintf("open/%d", lines), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				newBench(b, lines)
			}
		})
	}
}

// BenchmarkPaste is a paste of so many lines into a board of 100: from the message
// written to its findings read.
func BenchmarkPaste(b *testing.B) {
	for _, lines := range []int{1_000, 10_000, 100_000} {
		var blocks strings.Builder
		for i := range lines / 4 {
			fmt.Fprintf(&blocks, "// pasted %[1]d\nlet p%[1]d = %[1]d * 6 mm\ngap q%[1]d of wall on south at p%[1]d width 2 mm\nfeature r%[1]d on top rectangle 1 mm by 2 mm at (p%[1]d, 30 mm) net P%[1]d\n", i)
		}
		pasted := blocks.String()
		b.Run(fmt.Sprint(lines), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				b.StopTimer()
				c := newBench(b, 100)
				c.version++
				b.StartTimer()
				c.send(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":%d},"contentChanges":[{"range":{"start":{"line":%[3]d,"character":0},"end":{"line":%[3]d,"character":0}},"text":%[4]q}]}}`,
					benchURI, c.version, 1_000, pasted)
				want := fmt.Appendf(nil, `"version":%d,`, c.version)
				for !bytes.Contains(c.receive(), want) {
				}
			}
		})
	}
}
