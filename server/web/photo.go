package web

import (
	"context"
	"errors"
	"io"
	"mime"
	"net/http"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/server/photo"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// Names of the headers of a resumable upload
// (draft-ietf-httpbis-resumable-upload). Offsets are bytes.
const (
	uploadOffset   = "Upload-Offset"
	uploadComplete = "Upload-Complete" // ?1 or ?0
	partialUpload  = "application/partial-upload"
)

// Photos says which pictures the record names, and for whom.
type Photos interface {
	PhotoFor(ctx context.Context, id shop.ID, actor, sha256 string) (bytes int64, found bool, err error)
	HasPhoto(ctx context.Context, id shop.ID, job event.JobID, sha256 string) (bool, error)
}

// Pictures keeps the bytes of the pictures under their hash. Append returns where
// it stands also when it refuses a piece.
type Pictures interface {
	Held(shop, sha256 string) (offset int64, whole bool, err error)
	Append(shop, sha256 string, size, offset int64, piece []byte) (now int64, whole bool, err error)
	Open(sha256 string) (io.ReadSeekCloser, error)
	Drop(shop, sha256 string, named bool) error
}

func (s *site) registerPhotoRoutes(r routes) {
	const path = "/api/v1/photos/:sha256"
	r.e.HEAD(path, s.handlePhotoOffset)
	r.e.GET(path, s.handlePhoto)
	r.e.PATCH(path, limited(photo.MaxPiece, s.handlePhotoPiece))
	r.get("/shop/photos/:sha256", s.desk(s.handleDeskPhoto))
	r.get("/look/job/:link/photos/:sha256", s.handleLookPhoto)
}

// phonePhoto finds the phone, and the size of the picture that it asks about. A
// picture of a job that this phone may not read is like one that nobody took.
func (s *site) phonePhoto(c echo.Context) (shop.Phone, int64, error) {
	phone, err := s.phone(c)
	if err != nil {
		return phone, 0, err
	}
	size, found, err := s.Store.PhotoFor(c.Request().Context(), phone.Shop, "device:"+string(phone.Device), c.Param("sha256"))
	if err == nil && !found {
		err = noPhoto()
	}
	return phone, size, err
}

func noPhoto() error {
	return fault.New(fault.NotFound, "No record that you may see names this photo.", "If it was taken just now, sync the record first. The photo stays on the phone.")
}

// handlePhotoOffset tells a phone where to go on.
func (s *site) handlePhotoOffset(c echo.Context) error {
	phone, _, err := s.phonePhoto(c)
	if err != nil {
		return err
	}
	now, whole, err := s.Pictures.Held(string(phone.Shop), c.Param("sha256"))
	if err != nil {
		return err
	}
	tellOffset(c, now, whole)
	return c.NoContent(http.StatusNoContent)
}

func tellOffset(c echo.Context, now int64, whole bool) {
	h := c.Response().Header()
	h.Set(uploadOffset, strconv.FormatInt(now, 10))
	h.Set(uploadComplete, "?0")
	if whole {
		h.Set(uploadComplete, "?1")
	}
}

// handlePhotoPiece takes in a piece of a picture. Of a piece that is cut off on
// its way, what arrived is kept: the phone asks where to go on.
func (s *site) handlePhotoPiece(c echo.Context) error {
	phone, size, err := s.phonePhoto(c)
	if err != nil {
		return err
	}
	offset, err := pieceOffset(c)
	if err != nil {
		return err
	}
	piece, cut := io.ReadAll(c.Request().Body)
	if tooLarge := new(http.MaxBytesError); errors.As(cut, &tooLarge) {
		return cut
	}
	if cut != nil {
		cut = fault.Wrap(cut, fault.Busy, "The piece was cut off on its way. What arrived is kept.", "The phone asks where to go on.")
	}
	now, whole, err := s.Pictures.Append(string(phone.Shop), c.Param("sha256"), size, offset, piece)
	tellOffset(c, now, whole)
	if err = errors.Join(err, cut); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func pieceOffset(c echo.Context) (int64, error) {
	h := c.Request().Header
	kind, _, err := mime.ParseMediaType(h.Get(echo.HeaderContentType))
	if err == nil && kind != partialUpload && kind != echo.MIMEOctetStream {
		err = errors.New("content type " + kind)
	}
	if err != nil {
		return 0, fault.Wrap(err, fault.Invalid, "This is no piece of a photo. Nothing was stored.", "Photos and record are safe on the phone. Update the app and try again.")
	}
	offset, err := strconv.ParseInt(h.Get(uploadOffset), 10, 64)
	if err != nil || offset < 0 {
		return 0, fault.Wrap(err, fault.Invalid, "The piece of the photo does not say where it belongs. Nothing was stored.", "Photos and record are safe on the phone. Update the app and try again.")
	}
	return offset, nil
}

// handlePhoto gives a phone a picture that another phone of the job took.
func (s *site) handlePhoto(c echo.Context) error {
	if _, _, err := s.phonePhoto(c); err != nil {
		return err
	}
	return s.picture(c)
}

func (s *site) handleDeskPhoto(c echo.Context, who shop.Staff) error {
	return s.jobPicture(c, who.Shop, "")
}

// handleLookPhoto gives whoever was sent a link the pictures of that one job.
func (s *site) handleLookPhoto(c echo.Context) error {
	share, _, err := s.share(c)
	if err != nil {
		return err
	}
	return s.jobPicture(c, share.Shop, share.Job)
}

func (s *site) jobPicture(c echo.Context, id shop.ID, job event.JobID) error {
	found, err := s.Store.HasPhoto(c.Request().Context(), id, job, c.Param("sha256"))
	if err != nil {
		return err
	}
	if !found {
		return noPhoto()
	}
	return s.picture(c)
}

// picture serves a whole picture, or a range of it. Its name is its hash, so a
// browser may keep it for ever, and no cache between may.
func (s *site) picture(c echo.Context) error {
	hash := c.Param("sha256")
	f, err := s.Pictures.Open(hash)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }() // only read
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "image/jpeg")
	h.Set("Cache-Control", "private, max-age=31536000, immutable")
	h.Set("ETag", `"`+hash+`"`)
	http.ServeContent(c.Response(), c.Request(), "", time.Time{}, f)
	return nil
}

// placePhotos tells each picture of a job's page where it is, or that it has not
// arrived. path is where the pictures are for whoever looks.
func (s *site) placePhotos(id shop.ID, path string, v *templates.DeskJob) error {
	v.Card.Photos.Open = true
	place := func(row *templates.PhotoRow) error {
		_, whole, err := s.Pictures.Held(string(id), row.SHA)
		if err != nil {
			return err
		}
		if row.Away = !whole; whole {
			row.Src = path + row.SHA
		}
		return nil
	}
	rows := make([][]templates.PhotoRow, 0, len(v.Card.Photos.Groups)+len(v.Review.Holds))
	for _, g := range v.Card.Photos.Groups {
		rows = append(rows, g.Rows)
	}
	for _, h := range v.Review.Holds {
		rows = append(rows, h.Photos)
	}
	for _, some := range rows {
		for i := range some {
			if err := place(&some[i]); err != nil {
				return err
			}
		}
	}
	for i := range v.Timeline {
		if p := v.Timeline[i].Photo; p != nil {
			if err := place(p); err != nil {
				return err
			}
		}
	}
	return nil
}
