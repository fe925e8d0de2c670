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
  var pre = document.createElement('pre');
  pre.id = 'findings'; pre.textContent = JSON.stringify(out);
  document.body.appendChild(pre);
})();
</script>`

var findings = regexp.MustCompile(`(?s)<pre id="findings">(.*?)</pre>`)

// The pages are tried out in headless Chromium with axe-core, an accessibility
// checker: nothing of any weight may be found, and finding, comparing and
// enlarging must work from the keyboard. Needs Chromium and the file axe.min.js
// of the npm package axe-core, named by PULLBOOK_AXE.
func TestInBrowser(t *testing.T) {
	axe := os.Getenv("PULLBOOK_AXE")
	browser := ""
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
	dir, pages := write(t, specimen.Snapshot())
	for name, text := range pages {
		folder := filepath.Join(dir, filepath.Dir(name))
		for file, data := range map[string][]byte{"axe.js": script, "probe-" + filepath.Base(name): []byte(strings.Replace(text, "</body>", probe+"</body>", 1))} {
			if err := os.WriteFile(filepath.Join(folder, file), data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		out, err := exec.Command(browser, "--no-sandbox", "--disable-gpu", "--virtual-time-budget=20000", "--window-size=1200,900", "--dump-dom",
			"file://"+filepath.ToSlash(filepath.Join(folder, "probe-"+filepath.Base(name)))).Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		m := findings.FindSubmatch(out)
		if m == nil {
			t.Errorf("%s: the browser brought no findings", name)
			continue
		}
		var got struct {
			Violations []string
			Acts       map[string]any
		}
		if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &got); err != nil {
			t.Fatal(err)
		}
		for _, v := range got.Violations {
			t.Errorf("%s: %s", name, v)
		}
		want := map[string]map[string]any{
			"index.html":              {"found": 1.0},
			"plates/12-the-weir.html": {"edge": "20%", "opened": true, "enlarged": true, "back": true},
		}[name]
		for act, v := range want {
			if got.Acts[act] != v {
				t.Errorf("%s: %s is %v, want %v", name, act, got.Acts[act], v)
			}
		}
		t.Logf("%s: %d findings, %v", name, len(got.Violations), got.Acts)
	}
}
