package main

import (
	"bytes"
	"fmt"
	"go/doc/comment"
	"go/parser"
	"go/token"
	"html/template"
	"os"
	"path/filepath"
	"strings"
)

const (
	formulaFolder = "calc"
	howFile       = "how.html"
)

// chapter is one package of formulas as the page shows it.
type chapter struct {
	ID, Title string
	Body      template.HTML // from go/doc/comment, which escapes
}

// howPage writes "How this is calculated" from the package comments of calc: the
// page cannot say anything else than the code's own documentation.
func howPage() ([]byte, error) {
	folders, err := os.ReadDir(formulaFolder)
	if err != nil {
		return nil, fmt.Errorf("read the formulas: %w", err)
	}
	var chapters []chapter
	for _, f := range folders {
		if !f.IsDir() || f.Name() == "internal" || f.Name() == "lang" { // no formula is there
			continue
		}
		c, err := readChapter(f.Name())
		if err != nil {
			return nil, err
		}
		chapters = append(chapters, c)
	}
	var b bytes.Buffer
	if err := howTemplate.Execute(&b, chapters); err != nil {
		return nil, fmt.Errorf("write %s: %w", howFile, err)
	}
	return b.Bytes(), nil
}

func readChapter(name string) (chapter, error) {
	files, err := filepath.Glob(filepath.Join(formulaFolder, name, "*.go"))
	if err != nil {
		return chapter{}, err
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments|parser.PackageClauseOnly)
		if err != nil {
			return chapter{}, fmt.Errorf("read %s: %w", file, err)
		}
		if parsed.Doc != nil {
			text := strings.TrimPrefix(parsed.Doc.Text(), "Package "+name+" ")
			return chapter{ID: name, Title: capital(name), Body: render(name, capital(text))}, nil
		}
	}
	return chapter{}, fmt.Errorf("%s/%s has no package comment", formulaFolder, name)
}

func render(name, text string) template.HTML {
	p := comment.Printer{HeadingLevel: 3, HeadingID: func(h *comment.Heading) string { return name + "-" + h.DefaultID() },
		DocLinkURL: func(*comment.DocLink) string { return "#" + name }}
	return template.HTML(p.HTML(new(comment.Parser).Parse(text)))
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

var howTemplate = template.Must(template.New(howFile).Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>How this is calculated · strutcard</title>
<link rel="stylesheet" href="/app.css">
<script type="module" src="/how.js"></script>
</head>
<body class="how">
<main class="screen">
<h1>How this is calculated</h1>
<p><a href="/">Back to the app</a></p>
<p>Every formula of the app, with its sign, the range in which it holds, where it comes from, and what it leaves out. The text is the documentation of the program itself. The vehicle maker's manual, local rules and licensed practice come first.</p>
<nav><ul>{{range .}}<li><a href="#{{.ID}}">{{.Title}}</a></li>{{end}}</ul></nav>
{{range .}}<article id="{{.ID}}"><h2>{{.Title}}</h2>
{{.Body}}</article>
{{end}}</main>
</body>
</html>
`))
