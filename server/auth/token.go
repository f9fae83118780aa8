// Package auth makes and checks what proves who somebody is: the token of a
// phone, the password of staff, and the secrets in links and cookies.
package auth

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"time"

	"github.com/golang-jwt/jwt/v5"

	"strutcard/sync/event"
	"strutcard/sync/fault"
)

const (
	issuer     = "strutcard"
	tokenLife  = 400 * 24 * time.Hour
	renewAfter = 30 * 24 * time.Hour
	leeway     = time.Minute
)

// NewKey returns a fresh signing key in the form that NewTokens takes.
func NewKey() string {
	key := make([]byte, 32)
	_, _ = rand.Read(key) // never fails
	return hex.EncodeToString(key)
}

// Claim is what a valid token says. Whether TokenID still holds is for the
// caller to look up, at every use.
type Claim struct {
	Device  event.DeviceID
	TokenID string
	Issued  time.Time
}

// Aged reports whether the phone should be handed a fresh token. The old one
// holds until its own end, so that a lost reply costs nothing.
func (c Claim) Aged(now time.Time) bool { return now.Sub(c.Issued) > renewAfter }

// Tokens signs and checks the tokens of phones.
type Tokens struct {
	key     []byte
	now     func() time.Time
	parser  *jwt.Parser
	lenient *jwt.Parser // of Recognise
}

// NewTokens takes a key from NewKey.
func NewTokens(key string, now func() time.Time) (*Tokens, error) {
	raw, err := hex.DecodeString(key)
	if err != nil || len(raw) != 32 {
		return nil, fmt.Errorf("signing key is not 32 bytes of hex")
	}
	parser := jwt.NewParser(jwt.WithValidMethods([]string{jwt.SigningMethodHS256.Alg()}), jwt.WithExpirationRequired(),
		jwt.WithIssuedAt(), jwt.WithIssuer(issuer), jwt.WithLeeway(leeway), jwt.WithTimeFunc(now))
	lenient := jwt.NewParser(jwt.WithValidMethods([]string{jwt.SigningMethodHS256.Alg()}), jwt.WithoutClaimsValidation())
	return &Tokens{key: raw, now: now, parser: parser, lenient: lenient}, nil
}

// Issue returns a token that lasts 400 days.
func (t *Tokens) Issue(c Claim) (string, error) {
	now := t.now()
	token := jwt.NewWithClaims(jwt.SigningMethodHS256, jwt.RegisteredClaims{
		Issuer: issuer, Subject: string(c.Device), ID: c.TokenID,
		IssuedAt: jwt.NewNumericDate(now), ExpiresAt: jwt.NewNumericDate(now.Add(tokenLife)),
	})
	signed, err := token.SignedString(t.key)
	if err != nil {
		return "", fmt.Errorf("sign token: %w", err)
	}
	return signed, nil
}

// Check reads a token. Every failure is a sign_in fault: the phone keeps its data
// and asks for a fresh invitation.
func (t *Tokens) Check(token string) (Claim, error) {
	claim, err := t.read(t.parser, token)
	if err != nil {
		return Claim{}, NotSignedIn(err)
	}
	return claim, nil
}

// Recognise reads a token that may have run out: it still tells which phone has
// come back, with an invitation, after years without a connection. ok is false
// for one that was not made here.
func (t *Tokens) Recognise(token string) (c Claim, ok bool) {
	c, err := t.read(t.lenient, token)
	return c, err == nil
}

func (t *Tokens) read(parser *jwt.Parser, token string) (Claim, error) {
	var claims jwt.RegisteredClaims
	if _, err := parser.ParseWithClaims(token, &claims, func(*jwt.Token) (any, error) { return t.key, nil }); err != nil {
		return Claim{}, err
	}
	if claims.ID == "" || claims.Subject == "" {
		return Claim{}, errors.New("token lacks a claim")
	}
	c := Claim{Device: event.DeviceID(claims.Subject), TokenID: claims.ID}
	if claims.IssuedAt != nil {
		c.Issued = claims.IssuedAt.Time
	}
	return c, nil
}

// NotSignedIn is the answer to a phone whose token does not hold.
func NotSignedIn(cause error) error {
	return fault.Wrap(cause, fault.SignIn, "The shop does not know this phone, or has ended its access. Nothing was sent; everything is still on the phone.",
		"Go on working. To sync again, ask the shop for a fresh invitation.")
}
