package main

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"testing"
)

// TestCheckAgainst: what is found fails, and only what was looked at is found.
func TestCheckAgainst(t *testing.T) {
	status := http.StatusOK
	list := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(status) }))
	defer list.Close()
	found, looked := errors.New("one was found"), 0
	check := func() error { looked++; return found }
	if err := checkAgainst(list.URL, check); !errors.Is(err, found) || looked != 1 {
		t.Errorf("with the list: %v after %d looks, want what was found", err, looked)
	}
	status = http.StatusServiceUnavailable
	if err := checkAgainst(list.URL, check); err != nil || looked != 1 {
		t.Errorf("without an answer: %v after %d looks, want neither failure nor look", err, looked)
	}
	list.Close()
	if err := checkAgainst(list.URL, check); err != nil || looked != 1 {
		t.Errorf("without a connection: %v after %d looks, want neither failure nor look", err, looked)
	}
}
