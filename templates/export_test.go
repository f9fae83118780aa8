package templates

// FigureNames lists the drawings of the glossary that no step names.
func FigureNames() (names []string) {
	for _, f := range figures {
		names = append(names, f.name)
	}
	return names
}
