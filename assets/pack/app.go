package main

import (
	"bytes"
	"fmt"
	"strings"
	"text/template"

	"github.com/BurntSushi/toml"
)

// app is what FyneApp.toml says of the program.
type app struct {
	Name, Version, Icon  string
	GenericName, Comment string
	Categories, Keywords []string
}

// packedType is the media type of a packed catalogue. It is not registered.
const packedType = "application/x-pullbook-catalogue"

func readApp(path string) (app, error) {
	var f struct {
		Details     struct{ Name, Version, Icon string }
		LinuxAndBSD struct {
			GenericName, Comment string
			Categories, Keywords []string
		}
	}
	if _, err := toml.DecodeFile(path, &f); err != nil {
		return app{}, err
	}
	a := app{
		Name: f.Details.Name, Version: f.Details.Version, Icon: f.Details.Icon,
		GenericName: f.LinuxAndBSD.GenericName, Comment: f.LinuxAndBSD.Comment,
		Categories: f.LinuxAndBSD.Categories, Keywords: f.LinuxAndBSD.Keywords,
	}
	for what, value := range map[string]string{"Name": a.Name, "Version": a.Version, "Icon": a.Icon, "Comment": a.Comment} {
		if value == "" {
			return app{}, fmt.Errorf("%s does not give %s", path, what)
		}
	}
	return a, nil
}

// command is the program's name as it is typed.
func (a app) command() string { return strings.ToLower(a.Name) }

// desktopEntry is the program's entry in menus (freedesktop.org, Desktop Entry
// Specification 1.1; later versions bring nothing that is used here).
// StartupWMClass is the class the window tells X of.
var desktopEntry = template.Must(template.New("").Funcs(template.FuncMap{"list": list}).Parse(`[Desktop Entry]
Type=Application
Version=1.1
Name={{.Name}}
GenericName={{.GenericName}}
Comment={{.Comment}}
Exec={{.Command}} %f
Icon={{.Command}}
Terminal=false
Categories={{list .Categories}}
Keywords={{list .Keywords}}
MimeType={{.Packed}};
StartupNotify=true
StartupWMClass={{.Name}}
`))

// mimeType tells the desktop a packed catalogue by its ending and by the name
// of its first file (freedesktop.org, Shared MIME-info Database 0.21; the
// offsets are those of a ZIP local file header, APPNOTE 4.3.7).
var mimeType = template.Must(template.New("").Parse(`<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="{{.Packed}}">
    <comment>packed catalogue of prints</comment>
    <comment xml:lang="de">gepacktes Werkverzeichnis</comment>
    <sub-class-of type="application/zip"/>
    <icon name="{{.Command}}"/>
    <magic priority="60">
      <match type="string" offset="0" value="PK\003\004">
        <match type="string" offset="30" value="catalogue.db"/>
      </match>
    </magic>
    <glob pattern="*.pullbook.zip" weight="60"/>
  </mime-type>
</mime-info>
`))

// list joins values as desktop entries want them: each followed by a semicolon.
func list(values []string) string {
	var b strings.Builder
	for _, v := range values {
		b.WriteString(strings.ReplaceAll(v, ";", `\;`) + ";")
	}
	return b.String()
}

// fill fills a template with what is known of the program.
func (a app) fill(t *template.Template) []byte {
	var b bytes.Buffer
	err := t.Execute(&b, struct {
		app
		Command, Packed string
	}{a, a.command(), packedType})
	if err != nil {
		panic(err) // the templates are ours, and a buffer takes everything
	}
	return b.Bytes()
}
