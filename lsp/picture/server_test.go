package picture

import (
	"bufio"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/emit/wording"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

const patience = 10 * time.Second

func analysed(t testing.TB, path string) *lang.Analysis {
	t.Helper()
	f, err := source.Read(path)
	require.NoError(t, err)
	return lang.Analyze(f, source.Read, nil)
}

func frameOf(t testing.TB, path string) Frame {
	t.Helper()
	a := analysed(t, path)
	return Of(a, rules.All().Check(a, checks.Options{}), filepath.Base(path), true)
}

func opened(t *testing.T, o Options) *Server {
	t.Helper()
	s, err := New(o)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	return s
}

// request is sent as it is written, whatever a browser would make of it.
type request struct {
	method, path, host, origin, contentType, body string
}

func (r request) to(t *testing.T, s *Server) *http.Response {
	t.Helper()
	if r.method == "" {
		r.method = http.MethodGet
	}
	if !strings.HasPrefix(r.path, "/") {
		r.path = "/" + s.token + "/" + r.path
	}
	if r.host == "" {
		r.host = s.host
	}
	q, err := http.NewRequest(r.method, "http://"+s.host+r.path, strings.NewReader(r.body))
	require.NoError(t, err)
	q.Host = r.host
	if r.origin != "" {
		q.Header.Set("Origin", r.origin)
	}
	if r.contentType != "" {
		q.Header.Set("Content-Type", r.contentType)
	}
	answer, err := http.DefaultTransport.RoundTrip(q)
	require.NoError(t, err)
	t.Cleanup(func() { answer.Body.Close() })
	return answer
}

func TestWhoMayAskWhat(t *testing.T) {
	var went int
	s := opened(t, Options{Go: func(source.Place) { went++ }})
	s.Show(frameOf(t, "../../examples/receiver.hem"))
	_, port, err := net.SplitHostPort(s.host)
	require.NoError(t, err)
	own := "http://" + s.host
	click := request{method: "POST", path: "go", origin: own, contentType: "application/json", body: `{"item":"tab w"}`}
	with := func(change func(*request)) request {
		r := click
		change(&r)
		return r
	}
	for name, c := range map[string]struct {
		request
		status int
	}{
		"the page":                    {request{}, 200},
		"by the name localhost":       {request{host: "localhost:" + port}, 200},
		"its head alone":              {request{method: "HEAD"}, 200},
		"no token":                    {request{path: "/"}, 404},
		"another token":               {request{path: "/" + strings.Repeat("A", 43) + "/"}, 404},
		"part of the token":           {request{path: "/" + s.token[:42] + "/"}, 404},
		"the token and more":          {request{path: "/" + s.token + "x/"}, 404},
		"events with another token":   {request{path: "/x/events"}, 404},
		"another path":                {request{path: "secret"}, 404},
		"a path through dots":         {request{path: "/x/../" + s.token + "/go"}, 404},
		"a foreign host":              {request{host: "rebound.example:" + port}, 403},
		"a foreign host, no token":    {request{path: "/", host: "rebound.example"}, 403},
		"the host on another port":    {request{host: "127.0.0.1:1"}, 403},
		"a foreign origin":            {request{origin: "http://elsewhere.example"}, 403},
		"events, a foreign origin":    {request{path: "events", origin: "http://elsewhere.example"}, 403},
		"an opaque origin":            {request{path: "events", origin: "null"}, 403},
		"the origin by https":         {request{origin: "https://" + s.host}, 403},
		"posting to the page":         {request{method: "POST", origin: own}, 405},
		"posting to events":           {request{method: "POST", path: "events", origin: own}, 405},
		"a click":                     {click, 204},
		"a click by name":             {with(func(r *request) { r.origin = "http://localhost:" + port; r.host = "localhost:" + port }), 204},
		"a click by GET":              {with(func(r *request) { r.method = "GET" }), 405},
		"a click by PUT":              {with(func(r *request) { r.method = "PUT" }), 405},
		"a click from elsewhere":      {with(func(r *request) { r.origin = "http://elsewhere.example" }), 403},
		"a click from nowhere":        {with(func(r *request) { r.origin = "" }), 403},
		"a click as a form":           {with(func(r *request) { r.contentType = "application/x-www-form-urlencoded" }), 415},
		"a click as plain text":       {with(func(r *request) { r.contentType = "text/plain" }), 415},
		"a click that is no JSON":     {with(func(r *request) { r.body = "{" }), 400},
		"a click of a wrong kind":     {with(func(r *request) { r.body = `{"item":7}` }), 400},
		"a huge click":                {with(func(r *request) { r.body = `{"item":"` + strings.Repeat("x", 1<<20) + `"}` }), 413},
		"a click on nothing":          {with(func(r *request) { r.body = `{}` }), 409},
		"a click on what is gone":     {with(func(r *request) { r.body = `{"item":"gap gone"}` }), 409},
		"a finding of another frame":  {with(func(r *request) { r.body = `{"finding":0,"serial":99}` }), 409},
		"a finding that is not there": {with(func(r *request) { r.body = `{"finding":5,"serial":1}` }), 409},
		"a finding below zero":        {with(func(r *request) { r.body = `{"finding":-1,"serial":1}` }), 409},
	} {
		t.Run(name, func(t *testing.T) {
			answer := c.to(t, s)
			assert.Equal(t, c.status, answer.StatusCode)
			assert.Equal(t, policy, answer.Header.Get("Content-Security-Policy"))
			assert.Equal(t, "no-store", answer.Header.Get("Cache-Control"))
			assert.Equal(t, "nosniff", answer.Header.Get("X-Content-Type-Options"))
			assert.Equal(t, "no-referrer", answer.Header.Get("Referrer-Policy"))
			assert.Empty(t, answer.Header.Get("Access-Control-Allow-Origin"))
			body, err := io.ReadAll(answer.Body)
			require.NoError(t, err)
			if c.status >= 400 {
				assert.NotContains(t, string(body), s.token, "a refusal tells nothing")
			}
		})
	}
	assert.Equal(t, 2, went, "no more than the two good clicks went through")
}

func TestPolicyAllowsThePageAlone(t *testing.T) {
	assert.True(t, strings.HasPrefix(policy, "default-src 'none'; script-src 'sha256-"), policy)
	assert.Contains(t, policy, "frame-ancestors 'none'")
	assert.NotContains(t, policy, "unsafe")
	page := string(document)
	assert.Equal(t, 1, strings.Count(page, "<script>"))
	assert.NotRegexp(t, `(src|href)="(https?:)?//`, page, "no other host")
	assert.NotRegexp(t, `innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(| style="`, page)
	assert.NotContains(t, page, "/*script*/")
	assert.Contains(t, html.UnescapeString(page), wording.Caution)
	entries, err := os.ReadDir("page")
	require.NoError(t, err)
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".js") {
			assert.Contains(t, scripts, e.Name(), "a script that is not served")
		}
	}
}

func TestTokensDiffer(t *testing.T) {
	a, b := opened(t, Options{}), opened(t, Options{})
	assert.NotEqual(t, a.token, b.token)
	assert.Len(t, a.token, 43, "256 bits")
	host, _, err := net.SplitHostPort(a.host)
	require.NoError(t, err)
	assert.Equal(t, "127.0.0.1", host)
}

// stream reads events as they come.
func stream(t *testing.T, s *Server) (next func() (name, data string)) {
	t.Helper()
	answer := request{path: "events"}.to(t, s)
	require.Equal(t, http.StatusOK, answer.StatusCode)
	require.Equal(t, "text/event-stream", answer.Header.Get("Content-Type"))
	lines := bufio.NewScanner(answer.Body)
	lines.Buffer(nil, 1<<26)
	return func() (name, data string) {
		for lines.Scan() {
			if n, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
				name = n
			}
			if d, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				return name, d
			}
		}
		return "closed", ""
	}
}

func TestEventsAreTheNewest(t *testing.T) {
	watched := make(chan struct{}, 4)
	s := opened(t, Options{Watched: func() { watched <- struct{}{} }})
	assert.False(t, s.Watched())
	f := frameOf(t, "../../examples/receiver.hem")
	s.Show(Frame{File: "first"})
	s.Show(f)
	s.Highlight("gap g1")
	next := stream(t, s)
	<-watched
	name, data := next()
	assert.Equal(t, "frame", name)
	var got wireFrame
	require.NoError(t, json.Unmarshal([]byte(data), &got))
	assert.Equal(t, "receiver.hem", got.File, "what was shown before the page came is not told")
	assert.EqualValues(t, 2, got.Serial)
	name, data = next()
	assert.Equal(t, "cursor", name)
	assert.Equal(t, `"gap g1"`, data)
	assert.True(t, s.Watched())
	s.Highlight("gap g1") // no news
	s.Highlight("gap g2")
	_, data = next()
	assert.Equal(t, `"gap g2"`, data)

	s.Close()
	name, _ = next()
	assert.Equal(t, "end", name)
	name, _ = next()
	assert.Equal(t, "closed", name)
	s.Close() // twice is once
}

// The time that a request may take does not bound how long a page looks.
func TestAStreamOutlivesTheTimeForARequest(t *testing.T) {
	const short = 100 * time.Millisecond
	s, err := open(Options{}, short)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	next := stream(t, s)
	time.Sleep(3 * short)
	s.Highlight("gap g1")
	name, _ := next()
	assert.Equal(t, "cursor", name)
}

// A frame tells what was asked for and not verified, and what is accepted.
func TestFramesTellWhatIsNotVerifiedAndWhatIsAccepted(t *testing.T) {
	a := lang.Analyze(source.New("n.hem", `board b { shielding 30 dB; current 2 A; class 3 }
outline rectangle 9 mm by 9 mm
plating wall { along west; net GND; copper 25 um }
accept not_verified on board.current because "measured" until "2999-12-31"
`), nil, nil)
	var got wireFrame
	require.NoError(t, json.Unmarshal(encode(Of(a, rules.All().Check(a, checks.Options{}), "n.hem", true), 1), &got))
	assert.Equal(t, []Request{{"shielding 30 dB", "the board states no frequency that the wall is to shield at", false},
		{"current 2 A", "the board states no rise of temperature for it", true}}, got.NotVerified)
	assert.Equal(t, []Accepted{{"not_verified", "current 2 A is asked for and not verified: the board states no rise of temperature for it", "measured", "2999-12-31"}}, got.Accepted)

	assert.Contains(t, string(encode(Frame{}, 1)), `"notVerified":[],"accepted":[]`, "the page counts on lists")
}

// The page is told where each layer lies, and how thick to draw a board that states no thickness.
func TestLayersAreToldToThePage(t *testing.T) {
	var got wireFrame
	require.NoError(t, json.Unmarshal(encode(frameOf(t, "../../examples/receiver.hem"), 1), &got))
	require.Len(t, got.Levels, 7)
	assert.Equal(t, wireLevel{Name: "ground", Copper: true, Top: 0.395, Bottom: 0.43}, got.Levels[2])
	assert.InDelta(t, got.Thickness, got.Drawn, 1e-9)
	assert.InDelta(t, got.Drawn, got.Levels[6].Bottom, 1e-9)
	a := lang.Analyze(source.New("n.hem", "outline rectangle 9 mm by 9 mm\n"), nil, nil)
	require.NoError(t, json.Unmarshal(encode(Of(a, rules.All().Check(a, checks.Options{}), "n.hem", true), 1), &got))
	assert.Zero(t, got.Thickness)
	assert.InDelta(t, 1.6, got.Drawn, 1e-9)
}

// What a text names itself cannot leave the event that it is sent in.
func TestNamesStayText(t *testing.T) {
	nasty := "</script><img src=x onerror=alert(1)>\n\nevent: end\ndata: true\u2028\"'&"
	text := fmt.Sprintf("board b { title %q }\noutline rectangle 9 mm by 9 mm\nfeature %q on top circle 1 mm at (4 mm, 4 mm)\n", "</script>", "<b>&</b>")
	a := lang.Analyze(source.New("n.hem", text), nil, nil)
	s := opened(t, Options{})
	s.Show(Of(a, rules.All().Check(a, checks.Options{}), nasty, true))
	s.Highlight(nasty)
	next := stream(t, s)
	name, data := next()
	assert.Equal(t, "frame", name)
	assert.NotContains(t, data, "<")
	var got wireFrame
	require.NoError(t, json.Unmarshal([]byte(data), &got))
	assert.Equal(t, source.Visible(nasty), got.File)
	assert.Equal(t, "feature <b>&</b>", got.Items[1].ID)
	name, data = next()
	assert.Equal(t, "cursor", name)
	var id string
	require.NoError(t, json.Unmarshal([]byte(data), &id))
	assert.Equal(t, nasty, id)
}

// The item at the cursor is named as the frame names it, whatever its text says.
func TestCursorOnAnyName(t *testing.T) {
	for _, name := range []string{"😀", `a"b`, `a\b`, `\u0041`, `\n`, "<b>&</b>", "é", "e\u0301", "\u202eabc", "\u2028", "'", "\t", "\u007f", "\a", "\U000e0001"} {
		quoted := `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name) + `"`
		text := "board b { thickness 1 mm }\noutline rectangle 9 mm by 9 mm\nfeature " + quoted + " on top circle 1 mm at (4 mm, 4 mm)\n"
		a := lang.Analyze(source.New("n.hem", text), nil, nil)
		f := Of(a, rules.All().Check(a, checks.Options{}), "n.hem", true)
		s := opened(t, Options{})
		s.Show(f)
		s.Highlight(At(a, f.Scene, strings.LastIndex(text, "feature")))
		next := stream(t, s)
		_, data := next()
		var got wireFrame
		require.NoError(t, json.Unmarshal([]byte(data), &got))
		event, data := next()
		assert.Equal(t, "cursor", event)
		var id string
		require.NoError(t, json.Unmarshal([]byte(data), &id), "%q: %s", name, data)
		require.Len(t, got.Items, 2, "%q", name)
		assert.Equal(t, got.Items[1].ID, id)
		assert.Equal(t, "feature "+name, id)
	}
}

// A page that does not read is given nothing to catch up with: while it is
// busy, frames replace each other.
func TestSlowReaderGetsTheNewest(t *testing.T) {
	s := opened(t, Options{})
	big := frameOf(t, "../../examples/receiver.hem")
	for range 400 { // more than what lies in the sockets' buffers
		big.Findings = append(big.Findings, Finding{Message: strings.Repeat("long ", 4000)})
	}
	next := stream(t, s)
	const frames = 300
	start := time.Now()
	for i := range frames {
		f := big
		f.File = fmt.Sprint(i)
		s.Show(f)
		time.Sleep(time.Millisecond)
	}
	assert.Less(t, time.Since(start), patience, "showing does not wait for a page")
	count, last := 0, ""
	for last != fmt.Sprint(frames-1) {
		_, data := next()
		var got wireFrame
		require.NoError(t, json.Unmarshal([]byte(data), &got))
		last = got.File
		count++
	}
	assert.Less(t, count, frames/4)
}

func TestClosingLeavesNothingBehind(t *testing.T) {
	http.DefaultTransport.(*http.Transport).CloseIdleConnections()
	before := runtime.NumGoroutine()
	for range 5 {
		s, err := New(Options{})
		require.NoError(t, err)
		f := frameOf(t, "../../examples/receiver.hem")
		for range 400 {
			f.Findings = append(f.Findings, Finding{Message: strings.Repeat("long ", 4000)})
		}
		s.Show(f)
		// One page reads, one asks and never reads a byte.
		answer := request{path: "events"}.to(t, s)
		stuck, err := net.Dial("tcp", s.host)
		require.NoError(t, err)
		fmt.Fprintf(stuck, "GET /%s/events HTTP/1.1\r\nHost: %s\r\n\r\n", s.token, s.host)
		require.Eventually(t, func() bool { return s.state.streams() == 2 }, patience, time.Millisecond)
		read := make(chan struct{})
		go func() { _, _ = io.Copy(io.Discard, answer.Body); close(read) }()
		start := time.Now()
		s.Close()
		assert.Less(t, time.Since(start), 5*time.Second)
		<-read
		assert.Equal(t, 0, s.state.streams())
		_, err = net.Dial("tcp", s.host)
		assert.Error(t, err, "the port is free")
		stuck.Close()
		answer.Body.Close()
	}
	http.DefaultTransport.(*http.Transport).CloseIdleConnections()
	for start := time.Now(); runtime.NumGoroutine() > before && time.Since(start) < patience; {
		time.Sleep(5 * time.Millisecond)
	}
	assert.LessOrEqual(t, runtime.NumGoroutine(), before)
}

func TestPagesAreBounded(t *testing.T) {
	s := opened(t, Options{})
	for range maxStreams {
		stream(t, s)
	}
	assert.Equal(t, http.StatusServiceUnavailable, request{path: "events"}.to(t, s).StatusCode)
}

// Findings are marked where their statements are drawn.
func TestFindingsAreMarked(t *testing.T) {
	f := frameOf(t, "../../examples/broken/receiver.hem")
	require.GreaterOrEqual(t, len(f.Findings), 10)
	nowhere := 0
	for _, x := range f.Findings {
		for _, id := range x.Items {
			assert.NotEmpty(t, id)
		}
		if len(x.Items) == 0 {
			nowhere++
		}
		assert.Positive(t, x.Line)
		assert.Empty(t, x.File)
		assert.NotNil(t, x.Place.Anchor)
	}
	assert.Less(t, nowhere, 4, "%v", f.Findings)
}

// Files in messages are named as the text's `use` statements name them.
func TestMessagesNameFilesAsTheTextDoes(t *testing.T) {
	named := 0
	for _, x := range frameOf(t, "../../examples/broken/receiver.hem").Findings {
		assert.NotContains(t, x.Message, "examples", "a path from where the program was started")
		if strings.Contains(x.Message, ", ../shops/standard.hem:") {
			named++
		}
	}
	assert.GreaterOrEqual(t, named, 3)
}

func TestFindingOfAUsedFileIsListed(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.hem"), []byte("fabricator s { limit no_such minimum 1 mm }\n"), 0o644))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "boards"), 0o755))
	path := filepath.Join(dir, "boards", "b.hem")
	require.NoError(t, os.WriteFile(path, []byte("use \"../shop.hem\"\noutline rectangle 9 mm by 9 mm\n"), 0o644))
	found := false
	for _, x := range frameOf(t, path).Findings {
		assert.NotContains(t, x.Message, dir, "named from the text's folder on")
		if x.File == "../shop.hem" {
			found = true
			assert.Empty(t, x.Items)
			assert.Equal(t, 1, x.Line)
		}
	}
	assert.True(t, found)
}

// Whatever the texts of the other tests say, rightly or wrongly, it can be
// drawn: the page gets JSON, and paths of nothing but numbers.
func TestEveryTextCanBeShown(t *testing.T) {
	texts := langtest.Sections(t, "../../lang/testdata/*.hem")
	texts = append(texts, langtest.Sections(t, "../../checks/rules/testdata/*.hem")...)
	texts = append(texts, langtest.Examples(t, "../..")...)
	drawn := 0
	for _, s := range texts {
		a := s.Analyze()
		var got wireFrame
		require.NoError(t, json.Unmarshal(encode(Of(a, rules.All().Check(a, checks.Options{}), langtest.RootPath, true), 1), &got), s.Name())
		require.EqualValues(t, 1, got.Serial)
		for _, i := range got.Items {
			for _, p := range i.Parts {
				assert.Regexp(t, `^(?:[MLAZ ]|-?\d+(?:\.\d+)?)*$`, p.Path, "%s: %s", s.Name(), i.ID)
				drawn++
			}
		}
	}
	assert.Greater(t, drawn, 1000)
}
