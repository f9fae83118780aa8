package templates

import "github.com/a-h/templ"

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
