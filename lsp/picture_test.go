package lsp

import (
	"bufio"
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
)

const pictured = `board b { thickness 1.6 mm }
outline rectangle 60 mm by 40 mm
plating wall { along south; net GND; copper 25 um; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.05 mm }
gap g1 of wall on south at 20 mm width 4 mm
`

const shows = `{"window":{"showDocument":{"support":true}}}`

// look reads a picture's stream as a page does. It ends with the test.
func look(t *testing.T, address string) (event func(name string) string) {
	t.Helper()
	response, err := http.Get(address + "events")
	require.NoError(t, err)
	t.Cleanup(func() { response.Body.Close() })
	require.Equal(t, http.StatusOK, response.StatusCode)
	type message struct{ name, data string }
	came := make(chan message, 100)
	go func() {
		defer close(came)
		lines := bufio.NewScanner(response.Body)
		lines.Buffer(nil, 1<<24)
		name := ""
		for lines.Scan() {
			if n, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
				name = n
			}
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				came <- message{name, data}
			}
		}
	}()
	return func(name string) string {
		t.Helper()
		for {
			select {
			case m, ok := <-came:
				if !ok {
					return "closed"
				}
				if m.name == name {
					return m.data
				}
			case <-time.After(patience):
				t.Fatalf("no %s", name)
			}
		}
	}
}

type pageFrame struct {
	Serial   uint64
	File     string
	Go       bool
	Items    []struct{ ID string }
	Findings []struct {
		Rule  string
		Items []string
	}
	NotVerified []struct{ Asked string }
	Accepted    []struct{ Because string }
}

func frameOf(t *testing.T, data string) (f pageFrame) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(data), &f), data)
	return f
}

func (f pageFrame) has(id string) bool {
	for _, i := range f.Items {
		if i.ID == id {
			return true
		}
	}
	return false
}

// frameWith waits for a frame that a condition holds for.
func frameWith(t *testing.T, event func(string) string, holds func(pageFrame) bool) pageFrame {
	t.Helper()
	for {
		if f := frameOf(t, event("frame")); holds(f) {
			return f
		}
	}
}

func openedPicture(t *testing.T, c *session, uri string) string {
	t.Helper()
	var result pictureResult
	require.NoError(t, json.Unmarshal([]byte(c.call("workspace/executeCommand", map[string]any{"command": "hemline.picture", "arguments": []any{uri}})), &result))
	require.Regexp(t, `^http://127\.0\.0\.1:\d+/[\w-]{43}/$`, result.URI)
	return result.URI
}

func clickOn(t *testing.T, address string, body string) int {
	t.Helper()
	request, err := http.NewRequest(http.MethodPost, address+"go", strings.NewReader(body))
	require.NoError(t, err)
	u, err := url.Parse(address)
	require.NoError(t, err)
	request.Header.Set("Origin", "http://"+u.Host)
	request.Header.Set("Content-Type", "application/json")
	response, err := http.DefaultClient.Do(request)
	require.NoError(t, err)
	response.Body.Close()
	return response.StatusCode
}

func TestPictureFollowsTheTextAndTheCursor(t *testing.T) {
	c := start(t, DefaultEngine())
	c.replies = map[string]string{"window/showDocument": `{"success":true}`}
	c.initialize(shows)
	const uri = "file:///boards/b.hem"
	c.open(uri, pictured)
	address := openedPicture(t, c, uri)
	assert.Equal(t, address, openedPicture(t, c, uri), "one page for the session")

	shown := func() (p showDocumentParams) {
		c.wait("window/showDocument", func() bool { return len(c.notes["window/showDocument"]) > 0 })
		c.mu.Lock()
		defer c.mu.Unlock()
		require.NoError(t, json.Unmarshal(c.notes["window/showDocument"][0], &p))
		c.notes["window/showDocument"] = c.notes["window/showDocument"][1:]
		return p
	}
	for range 2 {
		page := shown()
		assert.Equal(t, showDocumentParams{URI: address, External: true}, page, "the client opens the page each time")
	}

	event := look(t, address)
	first := frameWith(t, event, func(f pageFrame) bool { return f.has("gap g1") })
	assert.Equal(t, "b.hem", first.File)
	assert.True(t, first.Go)
	require.NotEmpty(t, first.Findings)

	// The text changes: the picture does, and keeps what did not.
	c.edit(uri, "gap g2 of wall on south at 40 mm width 1 mm\n", 4, 0, 4, 0)
	next := frameWith(t, event, func(f pageFrame) bool { return f.has("gap g2") })
	assert.True(t, next.has("gap g1"))
	marked := map[string][]string{}
	for _, f := range next.Findings {
		marked[f.Rule] = f.Items
	}
	assert.Contains(t, marked["gap_narrow"], "gap g2")

	// A click, after an edit above that moves the statement.
	assert.Equal(t, http.StatusNoContent, clickOn(t, address, `{"item":"gap g2"}`))
	p := shown()
	assert.Equal(t, uri, p.URI)
	assert.True(t, p.TakeFocus)
	assert.Equal(t, "4:0-4:43", spanText(p))
	c.edit(uri, "\n\n", 0, 0, 0, 0)
	assert.Equal(t, http.StatusNoContent, clickOn(t, address, `{"item":"gap g2"}`))
	assert.Eventually(t, func() bool {
		return clickOn(t, address, `{"item":"gap g2"}`) == http.StatusNoContent && spanText(shown()) == "6:0-6:43"
	}, patience, 10*time.Millisecond)
	assert.Equal(t, http.StatusConflict, clickOn(t, address, `{"item":"gap g7"}`))

	// The cursor: by hemline's own notification.
	c.notify("hemline/cursor", at(uri, 6, 9))
	assert.Equal(t, `"gap g2"`, event("cursor"))
	c.notify("hemline/cursor", at(uri, 5, 2))
	assert.Equal(t, `"gap g1"`, event("cursor"))
	c.notify("hemline/cursor", at("file:///not/open.hem", 5, 2)) // is no fault
	c.notify("hemline/cursor", at(uri, 2, 2))
	assert.Equal(t, `""`, event("cursor"), "the board statement is drawn nowhere")
	c.call("textDocument/documentHighlight", at(uri, 5, 2)) // as most editors ask where the cursor rests
	assert.Equal(t, `"gap g1"`, event("cursor"))
	c.open("file:///boards/shop.hem", "fabricator shop { offers edge_plating }\n")
	c.notify("hemline/cursor", at("file:///boards/shop.hem", 0, 2))
	assert.Equal(t, `""`, event("cursor"), "the cursor is in another text")

	c.call("shutdown", nil)
	c.notify("exit", nil)
	assert.Equal(t, "true", event("end"), "the page is told")
	assert.Equal(t, "closed", event("frame"))
	assert.Equal(t, 0, c.exitCode())
	_, err := http.Get(address)
	assert.Error(t, err, "the port is free")
}

func spanText(p showDocumentParams) string {
	text, _ := json.Marshal(p.Selection)
	var value any
	_ = json.Unmarshal(text, &value)
	s, _ := shorten(value).(string)
	return s
}

// The page shows the board edited last, and stays when a file is edited that
// is none.
func TestPictureShowsTheBoardEditedLast(t *testing.T) {
	c := start(t, DefaultEngine())
	c.replies = map[string]string{"window/showDocument": `{"success":false}`}
	c.initialize(shows)
	c.open("file:///w/a.hem", "use \"shop.hem\"\n"+pictured)
	c.open("file:///w/b.hem", strings.ReplaceAll(pictured, "g1", "other"))
	c.open("file:///w/shop.hem", "fabricator shop { offers edge_plating }\n")
	address := openedPicture(t, c, "file:///w/a.hem")
	c.wait("a message with the address", func() bool { return len(c.notes["window/showMessage"]) > 0 })
	event := look(t, address)
	frameWith(t, event, func(f pageFrame) bool { return f.File == "a.hem" && f.has("gap g1") })

	c.edit("file:///w/b.hem", "// b\n", 0, 0, 0, 0)
	frameWith(t, event, func(f pageFrame) bool { return f.File == "b.hem" && f.has("gap other") })
	c.edit("file:///w/shop.hem", "fabricator shop { offers edge_plating; limit gap_width minimum 30 mm; limit gap_width minimum 0 }\n")
	for p := c.published(); !strings.HasSuffix(p.URI, "shop.hem") || len(p.Diagnostics) == 0; p = c.published() {
	}
	time.Sleep(50 * time.Millisecond) // for a wrong frame: what is never shown cannot be waited for
	c.edit("file:///w/a.hem", "// a\n", 0, 0, 0, 0)
	frameWith(t, event, func(f pageFrame) bool {
		// The version of b.hem that was open before its edit may be checked and
		// shown just before the edited one.
		assert.NotEqual(t, "shop.hem", f.File, "a shop is no board")
		return f.File == "a.hem"
	})
}

// What is accepted, and what was asked for and not verified, goes with the
// findings to the page.
func TestPictureTellsWhatIsNotVerifiedAndWhatIsAccepted(t *testing.T) {
	c := start(t, DefaultEngine())
	c.replies = map[string]string{"window/showDocument": `{"success":true}`}
	c.initialize(shows)
	c.open("file:///b.hem", strings.Replace(pictured, "thickness 1.6 mm", "thickness 1.6 mm; current 40 A", 1)+"accept not_verified on board.current because \"measured\"\n")
	address := openedPicture(t, c, "file:///b.hem")
	f := frameWith(t, look(t, address), func(f pageFrame) bool { return len(f.NotVerified) > 0 })
	assert.Equal(t, "current 40 A", f.NotVerified[0].Asked)
	require.Len(t, f.Accepted, 1)
	assert.Equal(t, "measured", f.Accepted[0].Because)
}

func TestPictureOfAClientThatShowsNothing(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open("file:///b.hem", pictured)
	address := openedPicture(t, c, "file:///b.hem")
	c.wait("a message with the address", func() bool { return len(c.notes["window/showMessage"]) > 0 })
	c.mu.Lock()
	assert.Contains(t, string(c.notes["window/showMessage"][0]), address)
	c.mu.Unlock()
	f := frameOf(t, look(t, address)("frame"))
	assert.False(t, f.Go, "the page offers no way to the text")
	assert.Equal(t, http.StatusNotImplemented, clickOn(t, address, `{"item":"gap g1"}`))
	c.in.Close()
	assert.Equal(t, 1, c.exitCode())
}

func TestPictureCommandRefuses(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(shows)
	for _, arguments := range []any{nil, []any{}, []any{7}, []any{"file:///none.hem"}} {
		code := c.fails("workspace/executeCommand", map[string]any{"command": "hemline.picture", "arguments": arguments})
		assert.Equal(t, -32602, code, "%v", arguments)
	}
}

// Without a picture nothing is kept, and nothing allocated.
func TestNoPictureCostsNothing(t *testing.T) {
	p := newPictures(nil)
	doc := new(document)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		p.edit("file:///a.hem")
		p.cursor(doc, 3)
		p.offer(doc, checks.Outcome{})
	}))
	assert.Nil(t, p.newest.doc)
	assert.Nil(t, p.at.doc)
	p.close()
}
