package lsp

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log"
	"net/textproto"
	"os"
	"strconv"
	"strings"
	"testing"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/source"
	"hemline/lsp/assist"
)

// BenchmarkKeystroke is what the server itself adds to a keystroke: from one
// character sent through a pipe to its diagnostics read from another, with an
// engine that takes no time.
func BenchmarkKeystroke(b *testing.B) {
	for _, lines := range []int{1_000, 10_000} {
		b.Run(fmt.Sprint(lines), func(b *testing.B) { benchmarkKeystroke(b, lines) })
	}
}

func benchmarkKeystroke(b *testing.B, lines int) {
	engine := Engine{
		Analyze: func(*source.File, lang.Reader, *lang.Analysis) *lang.Analysis { return new(lang.Analysis) },
		Files:   func(*lang.Analysis) []string { return nil },
		Check:   func(*lang.Analysis, checks.Options) checks.Outcome { return checks.Outcome{} },
		Symbols: func(*lang.Analysis) []assist.Symbol { return nil },
	}
	toServer, in := pipe(b)
	out, fromServer := pipe(b)
	go newServer(engine, log.New(io.Discard, "", 0), "test").serve(context.Background(), toServer, fromServer)
	send := func(body string) {
		if _, err := io.WriteString(in, frame(body)); err != nil {
			b.Fatal(err)
		}
	}
	reader := bufio.NewReader(out)
	receive := func() {
		header, err := textproto.NewReader(reader).ReadMIMEHeader()
		if err != nil {
			b.Fatal(err)
		}
		n, _ := strconv.Atoi(header.Get("Content-Length"))
		if _, err := reader.Discard(n); err != nil {
			b.Fatal(err)
		}
	}
	text := strings.Repeat(`gap g12 of wall on south at x12 width 2 mm\n`, lines)
	send(`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`)
	receive()
	send(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///a.hem","version":0,"text":"` + text + `"}}}`)
	receive()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		send(fmt.Sprintf(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///a.hem","version":%d},`+
			`"contentChanges":[{"range":{"start":{"line":%d,"character":5},"end":{"line":%d,"character":%d}},"text":"%s"}]}}`,
			i+1, lines/2, lines/2, 5+i%2, []string{"x", ""}[i%2]))
		receive()
	}
}

func pipe(tb testing.TB) (*os.File, *os.File) {
	tb.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { r.Close(); w.Close() })
	return r, w
}
