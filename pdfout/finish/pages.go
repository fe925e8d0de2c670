package finish

import (
	"bytes"
	"fmt"
	"regexp"
	"sort"
	"strconv"
	"strings"
)

var (
	boxEntry      = regexp.MustCompile(`(?m)^/(?:Trim|Bleed|Crop|Art)Box \[[^\]]*\]\n`)
	groupEntry    = regexp.MustCompile(`(?m)^/Group <<[^>]*>>\n`)
	resourceEntry = regexp.MustCompile(`/([IF][0-9a-f]{40}) (\d+) 0 R`)
	resourceUse   = regexp.MustCompile(`/([IF][0-9a-f]{40}) `)
	contentsEntry = regexp.MustCompile(`/Contents (\d+) 0 R`)
)

// sharedResources is the number of the one resource dictionary gofpdf gives to
// all pages.
const sharedResources = 2

// ownResources gives every page the resources it uses and no others, its boxes
// in a fixed order, links that print (PDF/A: the Print flag), and no
// transparency group, since nothing on it is transparent.
func (s *source) ownResources() error {
	shared, ok := s.objects[sharedResources]
	if !ok {
		return fmt.Errorf("the shared resources are missing")
	}
	where := map[string]string{}
	for _, m := range resourceEntry.FindAllSubmatch(shared.dict, -1) {
		where[string(m[1])] = string(m[2])
	}
	for _, o := range s.objects {
		if o.stored || !bytes.HasPrefix(o.dict, []byte("<</Type /Page\n")) {
			continue
		}
		m := contentsEntry.FindSubmatch(o.dict)
		if m == nil {
			return fmt.Errorf("a page has no contents")
		}
		n, _ := strconv.Atoi(string(m[1]))
		boxes := boxEntry.FindAll(o.dict, -1)
		sort.Slice(boxes, func(i, j int) bool { return bytes.Compare(boxes[i], boxes[j]) < 0 })
		d := boxEntry.ReplaceAll(o.dict, nil)
		d = groupEntry.ReplaceAll(d, nil)
		d = bytes.ReplaceAll(d, []byte("/Subtype /Link /Rect"), []byte("/Subtype /Link /F 4 /Rect"))
		own := append(bytes.Join(boxes, nil), resources(s.objects[n].stream, where)...)
		o.dict = bytes.Replace(d, []byte("/Resources 2 0 R\n"), own, 1)
	}
	return nil
}

// resources writes the resource dictionary of a content stream.
func resources(content []byte, where map[string]string) string {
	used := map[string]bool{}
	for _, m := range resourceUse.FindAllSubmatch(content, -1) {
		used[string(m[1])] = true
	}
	var fonts, pictures []string
	for name := range used {
		entry := "/" + name + " " + where[name] + " 0 R"
		if name[0] == 'F' {
			fonts = append(fonts, entry)
		} else {
			pictures = append(pictures, entry)
		}
	}
	sort.Strings(fonts)
	sort.Strings(pictures)
	out := "/Resources <<"
	if len(fonts) > 0 {
		out += "/Font <<" + strings.Join(fonts, " ") + ">>"
	}
	if len(pictures) > 0 {
		out += "/XObject <<" + strings.Join(pictures, " ") + ">>"
	}
	return out + ">>\n"
}

var parentEntry = regexp.MustCompile(`/Parent (\d+) 0 R`)

// countOutline gives outline items the number of their children, closed:
// gofpdf writes 0 for all.
func (s *source) countOutline() {
	children := map[int]int{}
	isItem := func(o *object) bool { return !o.stored && bytes.HasPrefix(o.dict, []byte("<</Title ")) }
	for _, o := range s.objects {
		if isItem(o) {
			if m := parentEntry.FindSubmatch(o.dict); m != nil {
				n, _ := strconv.Atoi(string(m[1]))
				children[n]++
			}
		}
	}
	for _, o := range s.objects {
		switch {
		case isItem(o):
			count := ""
			if n := children[o.num]; n > 0 {
				count = fmt.Sprintf("/Count -%d", n)
			}
			o.dict = bytes.Replace(o.dict, []byte("/Count 0"), []byte(count), 1)
		case bytes.HasPrefix(o.dict, []byte("<</Type /Outlines")):
			o.dict = bytes.Replace(o.dict, []byte("<</Type /Outlines"), fmt.Appendf(nil, "<</Type /Outlines /Count %d", children[o.num]), 1)
		}
	}
}
