package webpages

import (
	"encoding/json"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pullbook/catalog/exchange/internal/specimen"
)

// probe runs in the page: it tries out what the pages do by themselves, then
// hands everything to axe-core and leaves the findings in the page.
const probe = `<script src="axe.js"></script><script>
(async function () {
  var out = {acts: {}};
  var find = document.getElementById('find');
  if (find) {
    find.value = 'weir'; find.dispatchEvent(new Event('input'));
    out.acts.found = document.querySelectorAll('.plates > li:not([hidden])').length;
    find.value = ''; find.dispatchEvent(new Event('input'));
  }
  var edge = document.querySelector('.compare input');
  if (edge) {
    edge.value = 20; edge.dispatchEvent(new Event('input'));
    out.acts.edge = document.querySelector('.compare').style.getPropertyValue('--edge');
  }
  var scan = async function () {
    var r = await axe.run(document, {resultTypes: ['violations', 'incomplete']});
    return r.violations.map(function (v) { return v.impact + ' ' + v.id + ': ' + v.nodes.map(function (n) { return n.html.slice(0, 120); }).join(' | '); });
  };
  out.violations = await scan();
  var open = document.querySelector('.open');
  if (open) {
    open.focus(); open.click();
    await new Promise(function (r) { setTimeout(r, 300); });
    var dialog = document.getElementById('look'), stage = dialog.querySelector('.stage'), img = stage.querySelector('img');
    out.acts.opened = dialog.open && document.activeElement === stage;
    var before = img.style.transform;
    stage.dispatchEvent(new KeyboardEvent('keydown', {key: '+'}));
    out.acts.enlarged = img.style.transform !== before;
    out.violations = out.violations.concat(await scan());
    dialog.querySelector('[data-do=close]').click();
    await new Promise(function (r) { setTimeout(r, 50); });
    out.acts.back = document.activeElement === open;
  }
  out.missing = [];
  await Promise.all(Array.prototype.map.call(document.images, function (m) {
    if (!m.getAttribute('src')) { return null; }
    m.loading = 'eager';
    return new Promise(function (r) {
      if (m.complete) { r(); return; }
      m.addEventListener('load', r); m.addEventListener('error', r); setTimeout(r, 3000);
    }).then(function () { if (!m.complete || m.naturalWidth === 0) { out.missing.push(m.getAttribute('src')); } });
  }));
  out.elsewhere = performance.getEntriesByType('resource').map(function (r) { return r.name; }).filter(function (n) { return n.indexOf('file:') !== 0; });
  out.wider = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  out.dark = matchMedia('(prefers-color-scheme: dark)').matches;
  var pre = document.createElement('pre');
  pre.id = 'findings'; pre.textContent = JSON.stringify(out);
  document.body.appendChild(pre);
})();
</script>`

var findings = regexp.MustCompile(`(?s)<pre id="findings">(.*?)</pre>`)

// look is one way of looking at a page.
type look struct {
	name string
	args []string
	dark bool
}

var looks = []look{
	{"desk", []string{"--window-size=1200,900"}, false},
	{"phone", []string{"--window-size=390,844"}, false},
	{"dark", []string{"--window-size=1200,900", "--blink-settings=preferredColorScheme=0"}, true},
}

// seen is what the probe left in a page.
type seen struct {
	Violations, Missing, Elsewhere []string
	Acts                           map[string]any
	Wider                          int
	Dark                           bool
}

// wanted is how the acts come out on a page that has what they are tried on.
var wanted = map[string]any{"edge": "20%", "opened": true, "enlarged": true, "back": true}

// The pages are tried out in headless Chromium with axe-core, an accessibility
// checker (4.14.1 when this was written), from the disk and without a network,
// at a desk, on a phone and in the dark: nothing of any weight may be found,
// every picture is there, nothing is wider than the window, and finding,
// comparing and enlarging work from the keyboard. Needs Chromium and the file
// axe.min.js of the npm package axe-core, named by PULLBOOK_AXE. PULLBOOK_PAGES
// may name a folder of pages made of another catalogue, to be tried as well.
func TestInBrowser(t *testing.T) {
	axe, browser := os.Getenv("PULLBOOK_AXE"), ""
	for _, name := range []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			browser = p
			break
		}
	}
	if axe == "" || browser == "" {
		t.Skip("Chromium, or axe-core named by PULLBOOK_AXE, is not here; the pages were not tried out in a browser")
	}
	script, err := os.ReadFile(axe)
	if err != nil {
		t.Fatal(err)
	}
	dir, _ := write(t, specimen.Snapshot())
	tried := map[string]map[string]any{}
	for _, name := range pagesOf(t, dir) {
		for _, l := range looks {
			tried[filepath.Base(name)+" "+l.name] = tryOut(t, browser, l, name, script)
		}
	}
	for _, l := range looks {
		if got := tried["index.html "+l.name]["found"]; got != 1.0 {
			t.Errorf("%s: asked for a weir, the list shows %v plates, want 1", l.name, got)
		}
		if got := tried["12-the-weir.html "+l.name]; len(got) != len(wanted) {
			t.Errorf("%s: of %v only %v could be tried", l.name, wanted, got)
		}
	}
	if more := os.Getenv("PULLBOOK_PAGES"); more != "" {
		own := t.TempDir()
		if err := os.CopyFS(own, os.DirFS(more)); err != nil {
			t.Fatal(err)
		}
		for _, name := range pagesOf(t, own) {
			for _, l := range looks {
				tryOut(t, browser, l, name, script)
			}
		}
	}
}

// pagesOf are the pages of a folder.
func pagesOf(t *testing.T, dir string) []string {
	t.Helper()
	plates, err := filepath.Glob(filepath.Join(dir, "plates", "*.html"))
	if err != nil || len(plates) == 0 {
		t.Fatalf("%s holds no pages of plates, %v", dir, err)
	}
	return append([]string{filepath.Join(dir, "index.html")}, plates...)
}

// tryOut opens a page with the probe in it, says what is wrong, and returns
// the acts that could be tried.
func tryOut(t *testing.T, browser string, l look, name string, axe []byte) map[string]any {
	t.Helper()
	page, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	folder, where := filepath.Dir(name), filepath.Base(name)+", "+l.name
	with := filepath.Join(folder, ".probe.html")
	for file, data := range map[string][]byte{filepath.Join(folder, "axe.js"): axe, with: []byte(strings.Replace(string(page), "</body>", probe+"</body>", 1))} {
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	args := append([]string{"--no-sandbox", "--disable-gpu", "--host-resolver-rules=MAP * ~NOTFOUND", "--virtual-time-budget=60000", "--dump-dom"}, l.args...)
	// A busy machine can use up the browser's reckoning of time before the
	// probe has ended; that says nothing of the page.
	var m [][]byte
	for range 4 {
		out, err := exec.Command(browser, append(args, "file://"+filepath.ToSlash(with))...).Output()
		if err != nil {
			t.Fatalf("%s: %v", where, err)
		}
		if m = findings.FindSubmatch(out); m != nil {
			break
		}
	}
	if m == nil {
		t.Fatalf("%s: the browser brought no findings", where)
	}
	var got seen
	if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &got); err != nil {
		t.Fatal(err)
	}
	for _, v := range got.Violations {
		t.Errorf("%s: %s", where, v)
	}
	if len(got.Missing)+len(got.Elsewhere) > 0 || got.Wider > 0 || got.Dark != l.dark {
		t.Errorf("%s: missing %q, fetched %q, %d pixels stand out, dark is %v", where, got.Missing, got.Elsewhere, got.Wider, got.Dark)
	}
	for act, v := range got.Acts {
		if want, known := wanted[act]; known && v != want {
			t.Errorf("%s: %s is %v, want %v", where, act, v, want)
		}
	}
	t.Logf("%s: %d findings, %v", where, len(got.Violations), got.Acts)
	return got.Acts
}
