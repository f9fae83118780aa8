package client

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// maxRounds ends one sync; what is left goes with the next.
const maxRounds = 200

// sync exchanges events with the shop until nothing is left. It does not hold
// up the person: the client is locked only while what came is taken in.
func (c *Client) sync(ctx context.Context) error {
	if !c.syncing.TryLock() {
		return nil // one runs already
	}
	defer c.syncing.Unlock()
	c.mu.Lock()
	token := c.token
	c.mu.Unlock()
	if token == "" {
		return nil // no shop: nothing to do, and nothing wrong
	}
	epoch, err := c.rounds(ctx, token)
	if err == nil { // a picture may be sent once the record names it
		c.sendPhotos(ctx, token, epoch)
	}
	if sheets := c.swapSheets(ctx, token); err == nil { // events that do not go through must not hide a withdrawal
		err = sheets
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.countWaiting(ctx)
	c.readRefused(ctx)
	c.last = lang.F("Last sync: %s", clockWords(c.cfg.Now()))
	if err == nil || fault.Is(err, fault.SignIn) { // any other trouble, such as no signal, tells nothing of it
		c.shut = err != nil
	}
	if err != nil {
		c.last = lang.F("Not synced: %s %s", fault.Of(err).Message, fault.Of(err).Hint)
	}
	c.paint(ctx)
	return nil
}

// rounds exchanges until nothing is left, and tells which server that was.
func (c *Client) rounds(ctx context.Context, token string) (epoch string, err error) {
	for range maxRounds {
		progress, size, err := exchange.Round(ctx, c.cfg.Log, nonce(), c.pace, c.send(token))
		c.pace = c.pace.After(err, size)
		if err != nil {
			return "", err
		}
		if err := c.takeIn(ctx, progress); err != nil {
			return "", err
		}
		if epoch = progress.Epoch; !progress.More {
			break
		}
	}
	return epoch, nil
}

// takeIn adds what others wrote to the open job.
func (c *Client) takeIn(ctx context.Context, p exchange.Progress) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.log != nil {
		c.log.Add(p.Got...)
		for _, e := range p.Got {
			c.chain = c.chain.See(e)
		}
	}
	if err := c.twin(ctx, p.Got); err != nil {
		return err
	}
	if p.Token != "" {
		if err := c.cfg.Log.SetMeta(ctx, metaToken, p.Token); err != nil {
			return err
		}
		c.token = p.Token
	}
	if !p.More {
		c.broughtBack(ctx)
	}
	c.countWaiting(ctx)
	c.paint(ctx)
	return nil
}

func (c *Client) send(token string) exchange.Send {
	return func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
		var reply exchange.Reply
		err := c.call(ctx, "POST", "/api/v1/sync", token, req, &reply)
		return reply, err
	}
}

// call carries one JSON request. Anything but our own JSON counts as no answer.
func (c *Client) call(ctx context.Context, method, path, token string, in, out any) error {
	var body []byte
	if in != nil {
		var err error
		if body, err = json.Marshal(in); err != nil {
			return fmt.Errorf("write request: %w", err)
		}
	}
	status, mediaType, data, err := c.cfg.Platform.HTTP(ctx, method, path, body, token)
	if err != nil {
		return fault.Wrap(err, fault.Unreachable, "No connection to the shop.", "Nothing is lost. It syncs by itself when there is a signal.")
	}
	if !strings.HasPrefix(mediaType, "application/json") {
		return errForeign()
	}
	if status >= 300 {
		var f fault.Error
		if json.Unmarshal(data, &f) != nil || f.Message == "" {
			return fault.New(fault.Unreachable, "The shop's server gave an answer that cannot be read.", "Nothing is lost. Try again later.")
		}
		return fault.New(f.Kind, f.Message, f.Hint) // in this phone's language, when the words are known here
	}
	if err := json.Unmarshal(data, out); err != nil {
		return fault.Wrap(err, fault.Unreachable, "The shop's server gave an answer that cannot be read.", "Nothing is lost. Try again later.")
	}
	return nil
}

// errForeign is an answer from a guest network, or the like.
func errForeign() *fault.Error {
	return fault.New(fault.Unreachable, "Something answered, but not the shop's server.", "Check whether this network wants a sign-in page.")
}

func nonce() string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

// listed is one sheet in the shop's list.
type listed struct {
	Hash      string            `json:"hash"`
	Withdrawn *sheet.Withdrawal `json:"withdrawn"` // nil while it stands
}

// swapSheets fetches the shop's sheets and gives it those made here.
func (c *Client) swapSheets(ctx context.Context, token string) error {
	var list []listed
	if err := c.call(ctx, "GET", "/api/v1/sheets", token, nil, &list); err != nil {
		return err
	}
	if err := c.keepWithdrawn(ctx, list); err != nil { // before all else: it is why somebody may have to stop
		return err
	}
	there := map[string]bool{}
	for _, l := range list {
		there[l.Hash] = true
		if err := c.fetchSheet(ctx, token, l.Hash); err != nil {
			return err
		}
	}
	c.mu.Lock()
	err := c.listSheets(ctx)
	sheets := append([]held{}, c.sheets...)
	c.mu.Unlock()
	if err != nil {
		return fmt.Errorf("read sheets: %w", err)
	}
	for _, s := range sheets {
		if !s.own || there[s.hash] {
			continue
		}
		var got listed
		if err := c.call(ctx, "PUT", "/api/v1/sheets/"+s.hash, token, s.sheet(), &got); err != nil {
			return err
		}
		if got.Hash != s.hash {
			return errForeign()
		}
	}
	return nil
}

func (c *Client) fetchSheet(ctx context.Context, token, hash string) error {
	c.mu.Lock()
	known := c.findSheet(ctx, hash) != nil
	c.mu.Unlock()
	if known {
		return nil
	}
	var body json.RawMessage
	if strings.Trim(hash, "0123456789abcdef") != "" {
		return fault.New(fault.Invalid, "The shop's list names a fitting sheet that cannot be. It was not fetched.", "Tell the shop.")
	}
	if err := c.call(ctx, "GET", "/api/v1/sheets/"+hash, token, nil, &body); err != nil {
		return err
	}
	s, err := sheet.Decode(body)
	if err != nil {
		return err
	}
	if string(s.Hash()) != hash {
		return fault.New(fault.Invalid, "A fitting sheet came that is not the one that was asked for. It was not kept.", "Tell the shop.")
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if err := c.keepSheet(ctx, s); err != nil {
		return err
	}
	if c.log != nil && c.sheet == nil {
		return c.openJob(ctx, c.log.State().Job)
	}
	return nil
}

// followLink opens the app from an invitation link; nothing is redeemed yet.
func followLink(c *Client, _ context.Context, args map[string]string) error {
	c.view.Place, c.view.Invite = "sync", args["invite"]
	return nil
}

// membership is what an invitation is redeemed for.
type membership struct {
	Token    string `json:"token"`
	ShopName string `json:"shop_name"`
}

// join redeems an invitation. It does not hold up the person: the client is
// locked only once the shop has answered, or has not.
func (c *Client) join(ctx context.Context, args map[string]string) error {
	got, err := c.redeem(ctx, args)
	return c.press(ctx, "join", func(c *Client, ctx context.Context, _ map[string]string) error {
		if err != nil {
			return err
		}
		return c.joined(ctx, got)
	}, args)
}

// redeem asks the shop. The same phone may repeat it when a reply was lost.
func (c *Client) redeem(ctx context.Context, args map[string]string) (got membership, err error) {
	invite := strings.TrimSpace(args["invite"])
	if _, id, found := strings.Cut(invite, "#"); found {
		invite = id
	}
	if invite == "" {
		return got, fault.New(fault.Invalid, "There is no invitation yet.", "Open the link from your shop, or paste it here.")
	}
	name := strings.TrimSpace(args["name"])
	if name == "" {
		return got, fault.New(fault.Invalid, "This phone has no name yet. The invitation was not used.", "Write a name that tells this phone from your others, then press again.")
	}
	c.mu.Lock()
	token := c.token // also one that ran out tells who comes back
	ask := map[string]string{"invitation": invite, "device": string(c.device), "name": name}
	c.mu.Unlock()
	if err := c.call(ctx, "POST", "/api/v1/join", token, ask, &got); err != nil {
		return got, err
	}
	if got.Token == "" || got.ShopName == "" {
		return got, errForeign()
	}
	return got, nil
}

func (c *Client) joined(ctx context.Context, got membership) error {
	for key, value := range map[string]string{metaToken: got.Token, metaShop: got.ShopName} {
		if err := c.cfg.Log.SetMeta(ctx, key, value); err != nil {
			return fault.Wrap(err, fault.Storage, "The shop accepted this phone, but the phone could not keep its key.", "Make room on the phone, then join again with the same link.")
		}
	}
	c.token, c.shop, c.shut, c.last = got.Token, got.ShopName, false, ""
	c.keep()
	c.view.Invite = ""
	c.dropDrafts(ctx, "join.invite", "join.name")
	c.message = &templates.Message{Text: lang.F("This phone belongs to %s now.", c.shop), Hint: lang.T("Everything recorded here will sync to it when there is a signal.")}
	return nil
}
