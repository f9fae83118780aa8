package server

import (
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"time"
)

// A connection may be as slow as a garage makes it, but it must get on: each time
// that step bytes went through, patience begins anew. That lets a megabyte take an
// hour and cuts what only holds a connection open.
const step = 16 << 10

// sendBuffer bounds what the system takes in for a connection at once, in bytes.
// With more, a slow reader would show no progress for minutes.
const sendBuffer = 128 << 10

// patient gives each request a deadline that moves on with its bytes, both ways.
// The fixed ones of http.Server would cut a slow upload in its middle.
func patient(next http.Handler, patience time.Duration) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		conn := http.NewResponseController(w)
		body := &slowBody{ReadCloser: r.Body, extend: func() { _ = conn.SetReadDeadline(time.Now().Add(patience)) },
			release: func() { _ = conn.SetReadDeadline(time.Time{}) }}
		reply := &slowReply{ResponseWriter: w, extend: func() { _ = conn.SetWriteDeadline(time.Now().Add(patience)) }}
		if r.Body != http.NoBody {
			body.extend()
			r.Body = body
		}
		reply.extend()
		next.ServeHTTP(reply, r)
	})
}

// slowBody moves the deadline on while a body arrives.
type slowBody struct {
	io.ReadCloser
	extend, release func()
	got             int
}

func (b *slowBody) Read(p []byte) (int, error) {
	n, err := b.ReadCloser.Read(p)
	if b.got += n; b.got >= step {
		b.got = 0
		b.extend()
	}
	switch {
	case err == io.EOF:
		b.release() // a deadline that passed later would look like a lost phone
	case errors.Is(err, os.ErrDeadlineExceeded):
		err = fmt.Errorf("%w: %w", io.ErrUnexpectedEOF, err) // what a lost connection is, too
	}
	return n, err
}

// slowReply sends in steps and moves the deadline on before each.
type slowReply struct {
	http.ResponseWriter
	extend func()
}

// Unwrap lets http.ResponseController reach the connection.
func (r *slowReply) Unwrap() http.ResponseWriter { return r.ResponseWriter }

func (r *slowReply) WriteHeader(status int) {
	r.extend() // the handler may have thought for long
	r.ResponseWriter.WriteHeader(status)
}

func (r *slowReply) Write(p []byte) (sent int, err error) {
	for len(p) > step {
		n, err := r.write(p[:step])
		if sent += n; err != nil {
			return sent, err
		}
		p = p[n:]
	}
	n, err := r.write(p)
	return sent + n, err
}

func (r *slowReply) write(p []byte) (int, error) {
	r.extend()
	return r.ResponseWriter.Write(p)
}

// bounded is a listener whose connections take in only so much at once to send.
type bounded struct{ net.Listener }

func (b bounded) Accept() (net.Conn, error) {
	conn, err := b.Listener.Accept()
	if tcp, ok := conn.(*net.TCPConn); ok {
		_ = tcp.SetWriteBuffer(sendBuffer) // without it a slow reader is cut sooner
	}
	return conn, err
}
