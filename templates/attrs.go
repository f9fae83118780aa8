package templates

import (
	"strings"

	"github.com/a-h/templ"
)

// nowhere is what stands in place of a link that must not be followed.
const nowhere templ.SafeURL = "about:invalid"

// link leads to one of this server's own pages: a path from the root. Two slashes
// would name another server, and a browser takes a backslash for a slash and
// drops what cannot be seen.
func link(path string) templ.SafeURL {
	if !strings.HasPrefix(path, "/") || strings.HasPrefix(path, "//") || strings.ContainsAny(path, "\\\t\r\n") {
		return nowhere
	}
	return templ.SafeURL(path)
}

// fieldLink leads to a field of this page: after the "#" nothing is an address.
func fieldLink(name string) templ.SafeURL { return templ.SafeURL("#f-" + name) }

// callLink lets the phone dial; the number holds digits and a plus alone (client.dial).
func callLink(number string) templ.SafeURL { return templ.SafeURL("tel:" + number) }

// attrs writes an action's arguments as data attributes.
func attrs(args map[string]string) templ.Attributes {
	out := templ.Attributes{}
	for name, value := range args {
		out["data-"+name] = value
	}
	return out
}
