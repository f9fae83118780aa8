package sqlite_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/store/storetest"
)

// TestDropPhotos: a picture that another job names, of whatever shop, stays.
func TestDropPhotos(t *testing.T) {
	ctx := context.Background()
	db := openYard(t, sqlite.Options{})
	if err := db.PutShop(ctx, shop.Shop{ID: "other", Name: "Other"}, shop.Staff{ID: "s2", Name: "Olga", Password: "digest"}); err != nil {
		t.Fatal(err)
	}
	alone, twice, elsewhere := strings.Repeat("a", 64), strings.Repeat("b", 64), strings.Repeat("c", 64)
	take := func(id shop.ID, hashes ...string) event.JobID {
		chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: storetest.NewID[event.DeviceID]()}
		for _, hash := range hashes {
			e, err := chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(1), &event.PhotoTaken{SHA256: hash, Bytes: 9, Width: 1, Height: 1})
			if err != nil {
				t.Fatal(err)
			}
			chain = chain.See(e)
			if _, err := db.Shop(id).Append(ctx, "device:d", []event.Event{e}); err != nil {
				t.Fatal(err)
			}
		}
		return chain.Job
	}
	job := take(yard, alone, twice, elsewhere)
	take(yard, twice)
	take("other", elsewhere)
	if err := db.DeleteJob(ctx, job, shop.Entry{Shop: yard, Who: "Ann"}); err != nil {
		t.Fatal(err)
	}
	failed := map[string]bool{}
	dropped := map[string]bool{} // and whether it is still named
	drop := func(_ shop.ID, hash string, named bool) error {
		if !failed[hash] {
			failed[hash] = true
			return context.DeadlineExceeded
		}
		dropped[hash] = named
		return nil
	}
	for range 3 { // what failed is tried again in the next round
		_ = db.DropPhotos(ctx, drop)
	}
	if named, done := dropped[alone]; !done || named {
		t.Errorf("the picture of this job alone: dropped %v, named %v, want it dropped whole", done, named)
	}
	if _, done := dropped[twice]; done {
		t.Error("a picture that another job of the shop names was dropped")
	}
	if named, done := dropped[elsewhere]; !done || !named {
		t.Errorf("a picture that another shop has too: dropped %v, named %v, want only this shop's part dropped", done, named)
	}
	if err := db.DropPhotos(ctx, func(shop.ID, string, bool) error { t.Error("a picture is dropped twice"); return nil }); err != nil {
		t.Error(err)
	}
}
