package hostile_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/outside"
)

// lab is a server with what is to be tried, the host evil.test that nobody may
// ask for anything, and a browser that knows no other host.
type lab struct {
	*httptest.Server
	browser context.Context
	mu      sync.Mutex
	pages   map[string][]byte // by path, from the slash on
	fired   map[int]bool      // payloads that ran or reached evil.test
	strange []string          // requests for what is not there, and complaints
}

// watch stands in every page before anything of it runs. Whatever shows that a
// payload runs tells the browser's driver.
const watch = `{
	const tell = window.tell;
	const hit = n => { tell(String(n)); return 0; };
	Object.assign(window, {hit, alert: hit, confirm: hit, prompt: hit});
}`

// sharedLab starts one server and one browser for all tests of the package; end
// stops what it started.
var sharedLab = sync.OnceValues(startLab)

var end []func()

func TestMain(m *testing.M) {
	code := m.Run()
	for _, stop := range slices.Backward(end) {
		stop()
	}
	os.Exit(code)
}

// newLab returns the lab, emptied.
func newLab(t *testing.T) *lab {
	t.Helper()
	outside.Program(t, "chromium")
	l, err := sharedLab()
	if err != nil {
		t.Fatalf("start the browser: %v", err)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.pages, l.fired, l.strange = map[string][]byte{}, map[int]bool{}, nil
	return l
}

func startLab() (*lab, error) {
	l := &lab{}
	l.Server = httptest.NewServer(l)
	var stop func()
	var err error
	l.browser, stop, err = outside.Browser{Rules: "MAP evil.test " + l.Listener.Addr().String() + ", MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"}.Start()
	end = append(end, l.Close, stop)
	return l, err
}

// ServeHTTP serves the pages to 127.0.0.1 and notes every other request.
func (l *lab) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if strings.HasPrefix(r.Host, "evil.test") {
		l.fire(strings.TrimPrefix(strings.TrimSuffix(r.URL.Path, ".js"), "/"))
		w.WriteHeader(http.StatusNoContent)
		return
	}
	body, ok := l.pages[r.URL.Path]
	if !ok {
		l.strange = append(l.strange, r.Method+" "+r.URL.String())
		http.NotFound(w, r)
		return
	}
	types := map[string]string{".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
	w.Header().Set("Content-Type", types[path.Ext(r.URL.Path)])
	w.Header().Set("X-Content-Type-Options", "nosniff")
	_, _ = w.Write(body)
}

// fire notes a payload by its number. The caller holds the lock.
func (l *lab) fire(what string) {
	n, err := strconv.Atoi(what)
	if err != nil {
		l.strange = append(l.strange, "fired "+what)
		return
	}
	l.fired[n] = true
}

// taken returns what fired since the last time, and the strange requests.
func (l *lab) taken() (fired map[int]bool, strange []string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	fired, strange = l.fired, l.strange
	l.fired, l.strange = map[int]bool{}, nil
	return fired, strange
}

// ownDrawing is how the address of the drawings starts that the browser itself puts
// beside a field for a date. It leads nowhere.
const ownDrawing = "data:image/svg+xml;base64,PHN2ZyB4bWxucz0iaHR0cDovL3d3dy53My5vcmcvMjAwMC9zdmciIHdpZHRoPSIxNiIg"

// tab opens a tab that tells the lab what runs and what is asked for. Requests
// that start with none of the addresses allowed are strange. With open set the
// policy of the pages does not protect them.
func (l *lab) tab(t *testing.T, open bool, allowed ...string) context.Context {
	t.Helper()
	ctx, cancel := chromedp.NewContext(l.browser)
	t.Cleanup(cancel)
	err := chromedp.Listen(ctx, func(ev any) {
		l.mu.Lock()
		defer l.mu.Unlock()
		switch e := ev.(type) {
		case *runtime.EventBindingCalled:
			l.fire(e.Payload)
		case *network.EventRequestWillBeSent:
			for _, start := range append(allowed, ownDrawing) {
				if strings.HasPrefix(e.Request.URL, start) {
					return
				}
			}
			l.strange = append(l.strange, "request for "+e.Request.URL)
		}
	})
	check(t, err)
	_, err = chromedp.Call(ctx, network.Enable, network.EnableParams{})
	check(t, err)
	_, err = chromedp.Call(ctx, runtime.AddBinding, runtime.AddBindingParams{Name: "tell"})
	check(t, err)
	_, err = chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watch})
	check(t, err)
	_, err = chromedp.Call(ctx, page.SetBypassCSP, page.SetBypassCSPParams{Enabled: open})
	check(t, err)
	return ctx
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// inDanger writes a payload, unprotected, into the place that it is made for.
func inDanger(p payload) string {
	attribute := func(quote string) string {
		q := quote + p.text + quote
		return `<input value=` + q + `><img alt=` + q + `><svg class=` + q + `></svg><b tabindex=0 title=` + q + `>x</b>`
	}
	pages := map[place]string{
		inText:       "<p>" + p.text + "</p>",
		inAttribute:  attribute(`"`),
		inSingle:     attribute(`'`),
		inBare:       attribute(""),
		inAddress:    `<a id=go href="` + p.text + `">x</a><script>document.getElementById("go").click()</script>`,
		inScript:     `<script>let s = "` + p.text + `";</script>`,
		inScript1:    `<script>let s = '` + p.text + `';</script>`,
		inTemplate:   "<script>let s = `" + p.text + "`;</script>",
		inTitle:      "<title>" + p.text + "</title>",
		inTextarea:   "<textarea>" + p.text + "</textarea>",
		inStyle:      "<style>" + p.text + "</style><style>p{color:" + p.text + "}</style><p>x",
		inComment:    "<!-- " + p.text + " -->",
		inSVG:        "<svg><text>" + p.text + "</text></svg>",
		inJSON:       `<script type="application/json">` + p.text + "</script>",
		inFrame:      `<iframe srcdoc="` + p.text + `"></iframe>`,
		inHTMLByCode: "<div id=d></div><script>document.getElementById('d').innerHTML = " + strings.ReplaceAll(strconv.Quote(p.text), "</", `<\/`) + "</script>",
	}
	return "<!doctype html><meta charset=utf-8>" + pages[p.in]
}

// TestPayloadsAreLive loads each payload where nothing protects from it. One that
// does not fire there shows nothing by not firing elsewhere.
func TestPayloadsAreLive(t *testing.T) {
	l := newLab(t)
	control := func(n int) string { return fmt.Sprintf("/control/%d.html", n+1000) }
	all := payloads()
	for n, p := range all {
		l.pages[control(n)] = []byte(inDanger(p))
	}
	tab := l.tab(t, true, "http")
	// Many fire in a frame, so one page tries a row of them.
	const row = 40
	for first := 0; first < len(all); first += row {
		var frames strings.Builder
		for n := first; n < min(first+row, len(all)); n++ {
			fmt.Fprintf(&frames, "<iframe src=%q></iframe>", control(n))
		}
		l.pages["/row.html"] = []byte("<!doctype html><meta charset=utf-8>" + frames.String())
		check(t, goTo(tab, l.URL+"/row.html?"+strconv.Itoa(first)))
		l.waitFor(100*time.Millisecond, func(map[int]bool) bool { return false })
	}
	alone := 0
	for n, p := range all {
		fires := func(fired map[int]bool) bool { return fired[n+1000] }
		if l.waitFor(0, fires) {
			continue
		}
		alone++
		for range 5 { // a page may leave before what it asked for is sent
			check(t, goTo(tab, l.URL+control(n)))
			if l.waitFor(time.Second, fires) {
				break
			}
			picture(tab)
			if l.waitFor(2*time.Second, fires) {
				break
			}
		}
		if !l.waitFor(0, fires) {
			t.Errorf("%d in a %s is dead: %q", n+1000, p.in, p.text)
		}
	}
	t.Logf("%d payloads fire without protection, %d of them on a page of their own alone", len(all), alone)
}

// picture has the browser draw the page. On a busy machine it may put that off, and
// an animation with it. A page that cannot be drawn is none that fires.
func picture(tab context.Context) {
	ctx, cancel := context.WithTimeout(tab, 5*time.Second)
	defer cancel()
	_, _ = chromedp.Run(ctx, chromedp.CaptureScreenshot())
}

// patience is how long a page may take to load. On a busy machine a browser now and
// then never says that it has; asked again it does.
const patience = 20 * time.Second

// navigate loads a page, again when that takes too long or when an earlier page of
// the tab, on its way elsewhere, breaks it off.
func navigate(tab context.Context, address string) error {
	var err error
	for range 4 {
		ctx, cancel := context.WithTimeout(tab, patience)
		err = chromedp.Do(ctx, chromedp.Navigate(address))
		cancel()
		if err == nil || !errors.Is(err, context.DeadlineExceeded) && !aborted(err) {
			return err
		}
	}
	return err
}

func aborted(err error) bool { return strings.Contains(err.Error(), "ERR_ABORTED") }

// goTo loads a page. That the page itself goes elsewhere is no failure.
func goTo(tab context.Context, address string) error {
	ctx, cancel := context.WithTimeout(tab, patience)
	defer cancel()
	err := chromedp.Do(ctx, chromedp.Navigate(address))
	if err != nil && (aborted(err) || errors.Is(err, context.DeadlineExceeded)) {
		return nil // what fires, or does not, is looked at by itself
	}
	return err
}

// waitFor reports whether what fired so far is enough, at the latest after a
// while.
func (l *lab) waitFor(long time.Duration, enough func(fired map[int]bool) bool) bool {
	for end := time.Now().Add(long); ; time.Sleep(5 * time.Millisecond) {
		l.mu.Lock()
		ok := enough(l.fired)
		l.mu.Unlock()
		if ok || !time.Now().Before(end) {
			return ok
		}
	}
}

// visit is a page to be loaded, with texts that it must show.
type visit struct {
	address string
	shows   []string
}

// load loads the pages in a few tabs at once and looks for what an escape that
// was forgotten would leave.
func (l *lab) load(t *testing.T, open bool, visits []visit, allowed ...string) {
	t.Helper()
	const tabs = 3
	work := make(chan visit)
	var wait sync.WaitGroup
	for range tabs {
		tab := l.tab(t, open, allowed...)
		wait.Go(func() {
			for v := range work {
				if err := look(tab, v); err != nil {
					t.Errorf("%s: %v", v.address, err)
				}
			}
		})
	}
	for _, v := range visits {
		work <- v
	}
	close(work)
	wait.Wait()
	time.Sleep(300 * time.Millisecond) // for what fires late
	fired, strange := l.taken()
	for n := range fired {
		t.Errorf("%s fired", named(n))
	}
	for _, s := range strange {
		t.Errorf("off the page: %s", s)
	}
}

// named returns a payload by its number.
func named(n int) string {
	if all := payloads(); n >= 1000 && n-1000 < len(all) {
		return fmt.Sprintf("payload %d, %q,", n, all[n-1000].text)
	}
	if n >= linkNumber && n-linkNumber < len(links) {
		return fmt.Sprintf("link %q", links[n-linkNumber])
	}
	return fmt.Sprintf("%d", n)
}

// inspect returns what is wrong with the page, and of the texts given those that
// are not among its words.
const inspect = `(texts => {
	const wrong = [];
	for (const e of document.querySelectorAll("*")) {
		for (const a of e.attributes) {
			if (a.name.startsWith("on") || a.name === "style" || a.name === "srcdoc" || /^\s*(javascript|data|vbscript):/i.test(a.value) && ["href", "src", "action"].includes(a.name)) {
				wrong.push(e.tagName + " " + a.name + "=" + a.value);
			}
		}
		if (e.tagName === "SCRIPT" && !e.src && e.type !== "application/json" || ["IFRAME", "OBJECT", "EMBED", "BASE", "STYLE"].includes(e.tagName)) wrong.push(e.outerHTML);
	}
	const squeeze = s => s.replace(/\s+/g, " ");
	const words = squeeze(document.body.textContent);
	return wrong.concat(texts.filter(t => !words.includes(squeeze(t))).map(t => "not shown: " + t));
})(%s)`

func look(tab context.Context, v visit) error {
	if err := navigate(tab, v.address); err != nil {
		return err
	}
	tab, cancel := context.WithTimeout(tab, patience)
	defer cancel()
	list := []string{}
	for _, s := range v.shows {
		list = append(list, strconv.QuoteToASCII(s))
	}
	wrong, err := chromedp.Run(tab, chromedp.Evaluate[[]string](fmt.Sprintf(inspect, "["+strings.Join(list, ",")+"]")))
	if err == nil && len(wrong) > 0 {
		err = fmt.Errorf("%q", wrong)
	}
	return err
}

// shownOn are fields that the page of a record shows, by the folder of the page.
var shownOn = map[string]string{
	"class":         "classes.classes[].name",
	"product":       "products.products[].name",
	"observation":   "observation.title",
	"investigation": "investigations.investigations[].title",
	"recipe":        "recipes.recipes[].title",
	"together":      "interactions.interactions[].what",
}

var record = regexp.MustCompile(`^(?:es/)?(\w+)/.*-(\d+)\.html$`)

// visits lists the pages of an office, with what each of a record must show.
func visits(files map[string][]byte, d dealing, root string) []visit {
	var list []visit
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		v := visit{address: root + "/" + name}
		if m := record.FindStringSubmatch(name); m != nil {
			k, err := strconv.Atoi(m[2])
			if field := shownOn[m[1]]; err == nil && field != "" && k < d.copies {
				v.shows = []string{mark(k, field, d.text(k, field))}
			}
		}
		list = append(list, v)
	}
	return list
}

// soak is set for the long run.
var soak = os.Getenv("TANKLEAF_SOAK") != ""

// some is how many pages are loaded where not all are, one in so many: in an ordinary
// run of those in the second language and of those from a folder, in a soak of those
// that are both. The parser reads all of them.
const some = 10

// TestNothingFires loads an office in a browser: served, with the policy off so
// that escaping alone protects, and from a folder.
func TestNothingFires(t *testing.T) {
	l := newLab(t)
	folder := t.TempDir()
	d := forBrowser(t)
	office := makeOffice(t, d.copies, d.hostile())
	withSheets(t, 0, office, d)
	files := buildAgain(t, office)
	for name, body := range files {
		l.pages["/"+name] = body
		file := filepath.Join(folder, filepath.FromSlash(name))
		check(t, os.MkdirAll(filepath.Dir(file), 0o755))
		check(t, os.WriteFile(file, body, 0o644))
	}
	var served, opened []visit
	for i, v := range visits(files, d, l.URL) {
		if soak || i%some == 0 || !strings.HasPrefix(v.address, l.URL+"/es/") {
			served = append(served, v)
		}
	}
	root := "file://" + filepath.ToSlash(folder)
	for i, v := range visits(files, d, root) {
		if english := !strings.Contains(v.address, root+"/es/"); soak && english || i%some == 0 {
			opened = append(opened, v)
		}
	}
	t.Logf("%d payloads on %d pages, %d of them from a folder too", len(payloads()), len(served), len(opened))
	l.load(t, true, served, l.URL+"/")
	l.load(t, true, opened, root+"/")
}
