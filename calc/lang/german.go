package lang

import (
	_ "embed" // the catalogues are files
	"encoding/json"
	"fmt"
	"maps"
	"strings"
)

// German is the second language.
const German = "de"

//go:embed de.json
var german []byte

// Catalogue returns the other texts of a language by their English ones.
func Catalogue(tag string) (map[string]string, error) {
	if tag != German {
		return nil, fmt.Errorf("there is no catalogue for the language %q: known are en and de", tag)
	}
	texts := map[string]string{}
	err := json.Unmarshal(german, &texts)
	fill(texts)
	return texts, err
}

// slots are the placeholders that stand in the texts of the layouts, with what a
// fitting sheet has in their place. An axle is half of a word in German.
var slots = map[string]map[string]string{
	"{corner_words}": {"front left": "vorn links", "front right": "vorn rechts", "rear left": "hinten links", "rear right": "hinten rechts"},
	"{axle}":         {"front": "Vorder", "rear": "Hinter"},
}

// fill puts, for each text with a placeholder, the texts of every sheet into the
// catalogue. No text has two different ones.
func fill(texts map[string]string) {
	for text, other := range maps.Clone(texts) {
		for slot, words := range slots {
			if !strings.Contains(text, slot) {
				continue
			}
			delete(texts, text)
			for word, said := range words {
				texts[strings.ReplaceAll(text, slot, word)] = strings.ReplaceAll(other, slot, said)
			}
		}
	}
}

// Use changes the language of this process.
func Use(tag string) error {
	if tag == English {
		SpeakEnglish()
		return nil
	}
	texts, err := Catalogue(tag)
	if err != nil {
		return err
	}
	byKey := make(map[uint32]string, len(texts))
	for text, other := range texts {
		byKey[Key(text)] = other
	}
	Speak(tag, byKey)
	return nil
}
