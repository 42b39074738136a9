package lsp

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// folderOf writes a folder of so many boards, the examples again and again with a
// line of their own each, and the shops and parts that they use.
func folderOf(tb testing.TB, boards int) string {
	tb.Helper()
	folder := tb.TempDir()
	copyOf := func(from, to, more string) {
		text, err := os.ReadFile(from)
		require.NoError(tb, err)
		require.NoError(tb, os.MkdirAll(filepath.Dir(to), 0o755))
		require.NoError(tb, os.WriteFile(to, append(text, more...), 0o644))
	}
	examples := filepath.Join("..", "examples")
	for _, sub := range []string{"shops", "parts"} {
		files, err := filepath.Glob(filepath.Join(examples, sub, "*.hem"))
		require.NoError(tb, err)
		for _, f := range files {
			copyOf(f, filepath.Join(folder, sub, filepath.Base(f)), "")
		}
	}
	files, err := filepath.Glob(filepath.Join(examples, "*.hem"))
	require.NoError(tb, err)
	for i := range boards {
		copyOf(files[i%len(files)], filepath.Join(folder, fmt.Sprintf("%04d.hem", i)), fmt.Sprintf("\nlet here%[1]d = %[1]d mm\n", i))
	}
	return folder
}

// newFolder begins a session in a folder.
func newFolder(tb testing.TB, folder string) *bench {
	tb.Helper()
	return newBenchIn(tb, 1_000, fmt.Sprintf(`{"capabilities":{},"workspaceFolders":[{"uri":%q,"name":"boards"}]}`, uriOf(folder)))
}

const everyDiagnostic = `{"previousResultIds":[]}`

// What is kept of texts that are not open is what was found in them, not their
// analyses: of those there are 170 kB for each of these boards.
func TestWhatIsKeptOfClosedTextsIsSmall(t *testing.T) {
	const boards = 140
	c := newFolder(t, folderOf(t, boards))
	heap := func() int {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return int(m.HeapAlloc)
	}
	before := heap()
	c.request("workspace/diagnostic", everyDiagnostic)
	c.request("workspace/symbol", `{"query":"here"}`)
	kept := (heap() - before) / boards
	t.Logf("%d bytes a board", kept)
	assert.Less(t, kept, 8<<10)
}

// What is kept counts: the collector's bound rises with it, and falls again when the
// request that it was worked out for is done.
func TestWhatIsKeptIsCounted(t *testing.T) {
	var bounds []int64
	m := memory{set: func(bound int64) { bounds = append(bounds, bound) }}
	done := m.busy()
	m.kept(1000)
	m.opened(100)
	done()
	assert.Equal(t, []int64{
		memoryAtRest + memoryAtWork,
		memoryAtRest + memoryAtWork + 1000*memoryPerKept,
		memoryAtRest + memoryAtWork + 1000*memoryPerKept + 100*memoryPerByte,
		memoryAtRest + 1000*memoryPerKept + 100*memoryPerByte,
	}, bounds)
}

// A paste counts as what is opened does; a keystroke does not.
func TestAPasteIsCounted(t *testing.T) {
	bounds := make(chan int64, 10)
	c := start(t, newToy().engine())
	c.server.memory.set = func(bound int64) { bounds <- bound }
	c.initialize(`{}`)
	c.open("file:///a.hem", "")
	assert.Equal(t, int64(memoryAtRest), <-bounds)
	c.edit("file:///a.hem", "x")
	c.edit("file:///a.hem", strings.Repeat("x", 100_000))
	assert.Equal(t, int64(memoryAtRest+100_000*memoryPerByte), <-bounds)
	c.edit("file:///a.hem", "x")
	assert.Equal(t, int64(memoryAtRest+memoryPerByte), <-bounds)
}

// BenchmarkFolder is what requests on a folder of boards take, and a keystroke
// before and after them.
func BenchmarkFolder(b *testing.B) {
	const boards = 1_200
	folder := folderOf(b, boards)
	b.Run("scan", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			c := newFolder(b, folder)
			b.StartTimer()
			c.request("workspace/diagnostic", everyDiagnostic)
		}
	})
	c := newFolder(b, folder)
	c.server.memory.mu.Lock()
	c.server.memory.set = boundMemory
	c.server.memory.tell()
	c.server.memory.mu.Unlock()
	b.Cleanup(func() {
		debug.SetGCPercent(100)
		debug.SetMemoryLimit(math.MaxInt64)
	})
	keystroke := func(b *testing.B) {
		for b.Loop() {
			c.keystroke()
		}
	}
	b.Run("keystroke before", keystroke)
	known := slices.Clone(c.request("workspace/diagnostic", everyDiagnostic))
	b.Run("keystroke after", keystroke)
	var answer struct {
		Result struct {
			Items []struct {
				URI   string `json:"uri"`
				Value string `json:"resultId"`
			}
		}
	}
	require.NoError(b, json.Unmarshal(known, &answer))
	var previous []string
	for _, item := range answer.Result.Items {
		previous = append(previous, fmt.Sprintf(`{"uri":%q,"value":%q}`, item.URI, item.Value))
	}
	unchanged := fmt.Sprintf(`{"previousResultIds":[%s]}`, strings.Join(previous, ","))
	c.server.workspace.watched.Store(true)
	b.Run("unchanged", func(b *testing.B) {
		for b.Loop() {
			c.request("workspace/diagnostic", unchanged)
		}
	})
	b.Run("symbols", func(b *testing.B) {
		for b.Loop() {
			c.request("workspace/symbol", `{"query":"wall"}`)
		}
	})
}
