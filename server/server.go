// Package server joins storage, sign-in and pages into one program that listens.
package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"strutcard/pwa"
	"strutcard/server/auth"
	"strutcard/server/photo"
	"strutcard/server/sqlite"
	"strutcard/server/web"
)

// Config says how a server runs. Only DataDir is required.
type Config struct {
	Addr      string // host:port; "" is 127.0.0.1:8080, port 0 takes a free one
	DataDir   string // folder of the database; made if it is not there
	PublicURL string // how people reach this server, when it is not its own address
	TLSCert   string // file with the certificate chain; "" serves without TLS
	TLSKey    string
	Demo      bool // make the invented shop and its sheets
	Log       *slog.Logger
	Now       func() time.Time

	Wrap     func(http.Handler) http.Handler // around everything; for tests that lose replies
	Assets   web.Lookup                      // nil: the app built into this program
	Burst    int                             // tries at once from one address to get in; 0: 20
	Patience time.Duration                   // with a request or a reply that does not get on; 0: 2 minutes
}

// Times of the HTTP server.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	stopTime   = 5 * time.Second // then connections are cut
)

// Server is a server that was made and may be started once.
type Server struct {
	cfg   Config
	db    *sqlite.DB
	http  *http.Server
	addr  net.Addr
	done  chan error // what ended serving
	setUp string
	demo  Demo

	pictures *photo.Store
	rounds   sync.WaitGroup // the daily round, until stop
	stop     context.CancelFunc
}

// New opens the database and prepares everything but the listening.
func New(cfg Config) (*Server, error) {
	cfg = withDefaults(cfg)
	if (cfg.TLSCert == "") != (cfg.TLSKey == "") {
		return nil, errors.New("a certificate needs its key, and a key its certificate: give both or none")
	}
	if err := os.MkdirAll(cfg.DataDir, 0o700); err != nil {
		return nil, fmt.Errorf("make data folder: %w", err)
	}
	db, err := sqlite.Open(dbFile(cfg.DataDir), sqlite.Options{Now: cfg.Now, Project: newProjector().summary})
	if err != nil {
		return nil, err
	}
	s := &Server{cfg: cfg, db: db, done: make(chan error, 1), stop: func() {}}
	if err := s.prepare(context.Background()); err != nil {
		_ = db.Close() // the first error is the one to tell
		return nil, err
	}
	return s, nil
}

// dbFile is the database of a data folder.
func dbFile(dir string) string { return filepath.Join(dir, "strutcard.db") }

func withDefaults(cfg Config) Config {
	if cfg.Addr == "" {
		cfg.Addr = "127.0.0.1:8080"
	}
	if cfg.Log == nil {
		cfg.Log = slog.New(slog.NewTextHandler(io.Discard, nil))
	}
	if cfg.Now == nil {
		cfg.Now = time.Now
	}
	if cfg.Assets == nil {
		cfg.Assets = pwa.Lookup
	}
	if cfg.Patience == 0 {
		cfg.Patience = 2 * time.Minute
	}
	return cfg
}

func (s *Server) prepare(ctx context.Context) error {
	if err := s.rebuild(ctx); err != nil {
		return err
	}
	key, err := s.db.InitMeta(ctx, "token_key", auth.NewKey())
	if err != nil {
		return err
	}
	tokens, err := auth.NewTokens(key, s.cfg.Now)
	if err != nil {
		return err
	}
	proofs, err := s.db.InitMeta(ctx, "proof_key", auth.NewKey())
	if err != nil {
		return err
	}
	notary, err := auth.NewNotary(proofs)
	if err != nil {
		return err
	}
	passwords := auth.NewPasswords(2, 5*time.Second)
	if s.cfg.Demo {
		if s.demo, err = s.makeDemo(ctx, passwords); err != nil {
			return fmt.Errorf("make demo: %w", err)
		}
	}
	if err := s.offerSetUp(ctx); err != nil {
		return err
	}
	if s.pictures, err = photo.Open(filepath.Join(s.cfg.DataDir, photoDir)); err != nil {
		return err
	}
	var handler http.Handler = web.New(web.Config{Store: s.db, Pictures: s.pictures, Tokens: tokens, Notary: notary, Passwords: passwords, Assets: s.cfg.Assets,
		Now: s.cfg.Now, Log: s.cfg.Log, PublicURL: s.cfg.PublicURL, Secure: s.secure(), Burst: s.cfg.Burst})
	handler = patient(handler, s.cfg.Patience)
	if s.cfg.Wrap != nil {
		handler = s.cfg.Wrap(handler)
	}
	s.http = &http.Server{Handler: handler, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime,
		MaxHeaderBytes: 32 << 10, ErrorLog: slog.NewLogLogger(s.cfg.Log.Handler(), slog.LevelWarn)}
	return nil
}

// rebuild computes the queue anew when its rules changed.
func (s *Server) rebuild(ctx context.Context) error {
	had, err := s.db.Meta(ctx, "projection")
	if err != nil || had == projection {
		return err
	}
	if err := s.db.Rebuild(ctx); err != nil {
		return fmt.Errorf("rebuild queue: %w", err)
	}
	return s.db.SetMeta(ctx, "projection", projection)
}

// offerSetUp makes the one-time link of a server that nobody can sign in to yet.
func (s *Server) offerSetUp(ctx context.Context) error {
	none, err := s.db.NeedsSetUp(ctx)
	if err != nil || !none {
		return err
	}
	s.setUp = auth.NewSecret()
	return s.db.OfferSetUp(ctx, auth.Digest(s.setUp))
}

func (s *Server) secure() bool {
	return s.cfg.TLSCert != "" || strings.HasPrefix(s.cfg.PublicURL, "https://")
}

// Start listens and serves in the background.
func (s *Server) Start() error {
	listener, err := net.Listen("tcp", s.cfg.Addr)
	if err != nil {
		return fmt.Errorf("listen: %w", err)
	}
	s.addr = listener.Addr()
	listener = bounded{listener}
	ctx, stop := context.WithCancel(context.Background())
	s.stop = stop
	s.rounds.Go(func() { s.tidyDaily(ctx) })
	go func() {
		if s.cfg.TLSCert != "" {
			s.done <- s.http.ServeTLS(listener, s.cfg.TLSCert, s.cfg.TLSKey)
			return
		}
		s.done <- s.http.Serve(listener)
	}()
	return nil
}

// Run starts the server and stops it when ctx ends, within 6 s.
func (s *Server) Run(ctx context.Context) error { return s.RunAnd(ctx, func() {}) }

// RunAnd is Run; it calls ready once the server listens and its URL is known.
func (s *Server) RunAnd(ctx context.Context, ready func()) error {
	if err := s.Start(); err != nil {
		return errors.Join(err, s.db.Close())
	}
	ready()
	select {
	case <-ctx.Done():
		return s.Close()
	case err := <-s.done:
		return errors.Join(fmt.Errorf("serve: %w", err), s.closeData())
	}
}

// Close lets requests finish for 5 s, cuts the rest, and closes the database.
func (s *Server) Close() error {
	ctx, cancel := context.WithTimeout(context.Background(), stopTime)
	defer cancel()
	err := s.http.Shutdown(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		s.cfg.Log.Warn("requests were cut off")
		err = s.http.Close()
	}
	return errors.Join(err, s.closeData())
}

// closeData ends the daily round and closes the database.
func (s *Server) closeData() error {
	s.stop()
	s.rounds.Wait()
	return s.db.Close()
}

// Addr is the address that the server listens on. Call it after Start.
func (s *Server) Addr() string { return s.addr.String() }

// URL is where people reach the server, without a slash at the end. Call it
// after Start.
func (s *Server) URL() string {
	if s.cfg.PublicURL != "" {
		return strings.TrimSuffix(s.cfg.PublicURL, "/")
	}
	scheme := "http"
	if s.cfg.TLSCert != "" {
		scheme = "https"
	}
	return scheme + "://" + s.host()
}

// host names this machine "localhost" where it can: browsers trust that name
// without TLS.
func (s *Server) host() string {
	host, port, err := net.SplitHostPort(s.addr.String())
	if err != nil {
		return s.addr.String()
	}
	if ip := net.ParseIP(host); ip != nil && (ip.IsLoopback() || ip.IsUnspecified()) {
		host = "localhost"
	}
	return net.JoinHostPort(host, port)
}

// SetUpURL is the one-time link that makes the first account; "" once somebody
// can sign in. Call it after Start.
func (s *Server) SetUpURL() string {
	if s.setUp == "" {
		return ""
	}
	return s.URL() + "/setup#" + s.setUp
}
