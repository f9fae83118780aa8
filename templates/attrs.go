package templates

import "github.com/a-h/templ"

// attrs writes an action's arguments as data attributes.
func attrs(args map[string]string) templ.Attributes {
	out := templ.Attributes{}
	for name, value := range args {
		out["data-"+name] = value
	}
	return out
}
