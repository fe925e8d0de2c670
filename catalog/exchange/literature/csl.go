package literature

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// maxList bounds what is read.
const maxList = 64 << 20

// text is a JSON string or number.
type text string

// UnmarshalJSON takes strings and numbers; CSL-JSON allows both for many fields.
func (t *text) UnmarshalJSON(b []byte) error {
	var s string
	if json.Unmarshal(b, &s) == nil {
		*t = text(s)
		return nil
	}
	var n json.Number
	if err := json.Unmarshal(b, &n); err != nil {
		return fmt.Errorf("%s is neither a text nor a number", b)
	}
	*t = text(n.String())
	return nil
}

// cslItem is one item of CSL-JSON (CSL 1.0.2 data schema), as far as it is used.
type cslItem struct {
	ID        text      `json:"id"`
	Type      string    `json:"type"`
	Title     string    `json:"title"`
	Container string    `json:"container-title"`
	Series    string    `json:"collection-title"`
	Volume    text      `json:"volume"`
	Issue     text      `json:"issue"`
	Page      text      `json:"page"`
	Place     string    `json:"publisher-place"`
	Publisher string    `json:"publisher"`
	Edition   text      `json:"edition"`
	URL       string    `json:"URL"`
	DOI       string    `json:"DOI"`
	ISBN      string    `json:"ISBN"`
	Note      string    `json:"note"`
	Author    []cslName `json:"author"`
	Editor    []cslName `json:"editor"`
	Issued    struct {
		Parts   [][]text `json:"date-parts"`
		Literal string   `json:"literal"`
		Raw     string   `json:"raw"`
		Circa   any      `json:"circa"`
	} `json:"issued"`
}

type cslName struct {
	Family, Given, Literal string
	Particle               string `json:"non-dropping-particle"`
	Dropping               string `json:"dropping-particle"`
}

// ReadCSL reads a list of CSL-JSON items. The error is about the list as a
// whole; single entries that say nothing are in the result.
func ReadCSL(r io.Reader) (Result, error) {
	var items []json.RawMessage
	if err := json.NewDecoder(io.LimitReader(r, maxList)).Decode(&items); err != nil {
		return Result{}, fmt.Errorf("the file is no list of literature as CSL-JSON: %w", err)
	}
	var out Result
	for i, raw := range items {
		var it cslItem
		if err := json.Unmarshal(raw, &it); err != nil {
			out.Refused = append(out.Refused, fmt.Sprintf("Entry %d is not as CSL-JSON has it: %v.", i+1, err))
			continue
		}
		if it.ID == "" {
			it.ID = text(fmt.Sprintf("number %d", i+1))
		}
		out.take(it.source())
	}
	out.finish()
	return out, nil
}

func (it cslItem) source() source {
	s := source{key: string(it.ID), kind: it.Type, authors: cslNames(it.Author), editors: cslNames(it.Editor), title: it.Title,
		container: it.Container, series: it.Series, volume: string(it.Volume), number: string(it.Issue), pages: string(it.Page), place: it.Place,
		house: it.Publisher, edition: string(it.Edition), date: it.date(), url: it.URL, doi: it.DOI, isbn: it.ISBN, note: it.Note}
	s.trim()
	return s
}

func cslNames(names []cslName) []name {
	var out []name
	for _, n := range names {
		if whole := strings.TrimSpace(n.Literal); whole != "" {
			out = append(out, name{family: whole})
			continue
		}
		if n := (name{given: strings.TrimSpace(n.Given + " " + n.Dropping), family: strings.TrimSpace(n.Particle + " " + n.Family)}); n != (name{}) {
			out = append(out, n)
		}
	}
	return out
}

// date writes the date of issue as EDTF, or as it stands.
func (it cslItem) date() string {
	var ends []string
	for _, parts := range it.Issued.Parts {
		end := ""
		for i, p := range parts {
			width := "%02s"
			if i == 0 {
				width = "%04s"
			} else {
				end += "-"
			}
			end += strings.ReplaceAll(fmt.Sprintf(width, string(p)), " ", "0")
		}
		if end != "" {
			ends = append(ends, end)
		}
	}
	if len(ends) == 0 {
		return it.Issued.Literal + it.Issued.Raw
	}
	d := strings.Join(ends, "/")
	if it.Issued.Circa != nil && it.Issued.Circa != false && len(ends) == 1 {
		d += "~"
	}
	return d
}
