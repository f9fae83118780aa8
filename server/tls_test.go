package server_test

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"math/big"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"strutcard/server"
)

// signInCookie signs in at a base address and returns the cookie's header.
func signInCookie(t *testing.T, c *http.Client, base string, d server.Demo) string {
	t.Helper()
	res, err := c.PostForm(base+"/sign-in", url.Values{"name": {d.Name}, "password": {d.Password}})
	if err != nil {
		t.Fatal(err)
	}
	_ = res.Body.Close()
	return res.Header.Get("Set-Cookie")
}

func TestSecureCookie(t *testing.T) {
	plain := open(t, nil)
	if got := signInCookie(t, browser(t), at(plain.srv), plain.srv.Demo()); got == "" || strings.Contains(got, "Secure") {
		t.Errorf("without TLS the cookie is %q", got)
	}
	proxied := open(t, func(cfg *server.Config) { cfg.PublicURL = "https://shop.example/" })
	if got := signInCookie(t, browser(t), "http://"+proxied.srv.Addr(), proxied.srv.Demo()); !strings.Contains(got, "Secure") {
		t.Errorf("behind a TLS proxy the cookie is %q", got)
	}
	if got := proxied.srv.InvitationURL(); !strings.HasPrefix(got, "https://shop.example/join#") {
		t.Errorf("invitation %q", got)
	}
	cert, key := certificate(t)
	own := open(t, func(cfg *server.Config) { cfg.TLSCert, cfg.TLSKey = cert, key })
	c := browser(t)
	c.Transport = &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}} // our own certificate, loopback
	if got := signInCookie(t, c, at(own.srv), own.srv.Demo()); !strings.HasPrefix(at(own.srv), "https://") || !strings.Contains(got, "Secure") {
		t.Errorf("%s: the cookie is %q", at(own.srv), got)
	}
}

// certificate makes a self-signed one for localhost.
func certificate(t *testing.T) (cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := x509.Certificate{SerialNumber: big.NewInt(1), DNSNames: []string{"localhost"}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour)}
	public, err := x509.CreateCertificate(rand.Reader, &template, &template, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	cert, key = filepath.Join(t.TempDir(), "cert.pem"), filepath.Join(t.TempDir(), "key.pem")
	for file, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: public}, key: {Type: "PRIVATE KEY", Bytes: secret}} {
		if err := os.WriteFile(file, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return cert, key
}
