package iiif

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/internal/specimen"
)

// viewerPage shows one image in OpenSeadragon, goes in to its full size and
// leaves in the page how many tiles came and which did not.
const viewerPage = `<!DOCTYPE html><html><body><div id="view" style="width:1000px;height:800px"></div>
<script src="/openseadragon.js"></script><script>
var out = {came: 0, failed: [], opened: false};
var viewer = OpenSeadragon({id: 'view', tileSources: %q, showNavigationControl: false, immediateRender: true, animationTime: 0, drawer: 'canvas'});
viewer.addHandler('tile-loaded', function () { out.came++; });
viewer.addHandler('tile-load-failed', function (e) { out.failed.push(e.tile ? e.tile.getUrl() : String(e.message)); });
viewer.addHandler('open-failed', function (e) { out.failed.push(String(e.message)); });
viewer.addHandler('open', function () {
  out.opened = true;
  setTimeout(function () { viewer.viewport.zoomTo(viewer.viewport.imageToViewportZoom(1), null, true); viewer.forceRedraw(); }, 1000);
  setTimeout(function () { viewer.viewport.panTo(new OpenSeadragon.Point(0.9, 1.2), true); viewer.forceRedraw(); }, 2500);
});
setTimeout(function () { var pre = document.createElement('pre'); pre.id = 'findings'; pre.textContent = JSON.stringify(out); document.body.appendChild(pre); }, 5000);
</script></body></html>`

// A viewer of images, OpenSeadragon (of the npm package openseadragon, 6.1.1
// when this was written), opens every image from a plain web server in headless
// Chromium and finds each tile that it asks for.
func TestTilesInViewer(t *testing.T) {
	dir := modules(t)
	script := filepath.Join(dir, "openseadragon", "build", "openseadragon", "openseadragon.min.js")
	browser := ""
	for _, name := range []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			browser = p
			break
		}
	}
	if _, err := os.Stat(script); browser == "" || err != nil {
		t.Skip("Chromium or OpenSeadragon is not here; the tiles were not tried in a viewer")
	}
	export := t.TempDir()
	asked := map[string]int{}
	files := http.FileServer(http.Dir(export))
	mux := http.NewServeMux()
	server := httptest.NewServer(mux)
	defer server.Close()
	mux.HandleFunc("/openseadragon.js", func(w http.ResponseWriter, r *http.Request) { http.ServeFile(w, r, script) })
	mux.HandleFunc("/view/{image}", func(w http.ResponseWriter, r *http.Request) {
		fmt.Fprintf(w, viewerPage, server.URL+"/images/"+r.PathValue("image")+"/info.json")
	})
	mux.Handle("/", files)
	if err := Write(context.Background(), export, entry.New(specimen.Snapshot()), &specimen.Pictures{}, Options{Base: server.URL}); err != nil {
		t.Fatal(err)
	}
	images, err := filepath.Glob(filepath.Join(export, "images", "*"))
	if err != nil || len(images) != 5 {
		t.Fatal(images, err)
	}
	findings := regexp.MustCompile(`(?s)<pre id="findings">(.*?)</pre>`)
	for _, image := range images {
		name := filepath.Base(image)
		var got struct {
			Came   int
			Failed []string
			Opened bool
		}
		for range 5 { // a busy machine can use up the browser's reckoning of time
			out, err := exec.Command(browser, "--no-sandbox", "--disable-gpu", "--virtual-time-budget=30000", "--window-size=1100,900", "--dump-dom", server.URL+"/view/"+name).Output()
			if err != nil {
				t.Fatal(err)
			}
			m := findings.FindSubmatch(out)
			if m == nil {
				continue
			}
			if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &got); err != nil {
				t.Fatal(err)
			}
			if got.Came > 0 || len(got.Failed) > 0 {
				break
			}
		}
		asked[name] = got.Came
		if !got.Opened || len(got.Failed) > 0 || got.Came == 0 {
			t.Errorf("%s: opened %v, %d tiles came, not these: %s", name, got.Opened, got.Came, strings.Join(got.Failed, ", "))
		}
	}
	t.Logf("tiles that came: %v", asked)
}
