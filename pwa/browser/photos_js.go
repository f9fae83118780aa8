package browser

import (
	"context"
	"fmt"

	"strutcard/pwa/client"
	"strutcard/sync/fault"
)

// Photos is the page's store of pictures. It implements client.Photos.
type Photos struct{}

var _ client.Photos = Photos{}

// Size implements client.Photos.
func (Photos) Size(ctx context.Context, sha256 string) (int64, error) {
	promise, err := call(host().Get("photos"), "size", sha256)
	if err != nil {
		return 0, photosUnread(err)
	}
	n, err := await(ctx, promise)
	if err != nil {
		return 0, photosUnread(fmt.Errorf("photo size: %w", err))
	}
	return int64(n.Int()), nil
}

// Send implements client.Photos.
func (Photos) Send(ctx context.Context, token, epoch string, wanted []string) error {
	list := make([]any, len(wanted))
	for i, sha256 := range wanted {
		list[i] = sha256
	}
	promise, err := call(host().Get("photos"), "send", token, epoch, list)
	if err != nil {
		return err
	}
	_, err = await(ctx, promise)
	return err
}

// Progress implements client.Photos.
func (Photos) Progress() client.PhotoProgress {
	got, err := call(host().Get("photos"), "progress")
	if err != nil {
		return client.PhotoProgress{}
	}
	number := func(name string) int { return got.Get(name).Int() }
	return client.PhotoProgress{Done: number("done"), Of: number("of"), BytesDone: int64(number("bytesDone")), BytesOf: int64(number("bytesOf")),
		Trouble: text(got.Get("trouble"))}
}

func photosUnread(err error) error {
	return fault.Wrap(err, fault.Storage, "The photo was not recorded: the phone's photo store does not answer. The record is safe.",
		"Take it again. Or go on without it: leave it out, with a reason.")
}

// Inspect has the page look at the phone afresh.
func Inspect(ctx context.Context) (client.Inspection, error) {
	promise, err := call(host(), "inspect")
	if err != nil {
		return client.Inspection{}, err
	}
	got, err := await(ctx, promise)
	if err != nil {
		return client.Inspection{}, fmt.Errorf("inspect: %w", err)
	}
	found := func(name string) client.Found { return client.Found(text(got.Get(name))) }
	return client.Inspection{Files: found("files"), How: found("how"), Persisted: found("persisted"), Photos: found("photos"),
		Free: int64(got.Get("free").Float())}, nil
}
