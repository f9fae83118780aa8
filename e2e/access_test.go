package e2e

import "testing"

// TestJoinAgain: a phone whose access the shop has ended works on, says so, and comes
// back with a fresh invitation; what it wrote meanwhile is sent then.
func TestJoinAgain(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.join()
	p.openDemo()
	p.synced()
	desk := shop.staff()
	if _, err := desk.Goto(shop.url + "/shop/phones"); err != nil {
		t.Fatal(err)
	}
	for _, press := range []string{"End its access", "Make an invitation"} {
		if err := desk.Locator("button:has-text('" + press + "')").First().Click(); err != nil {
			t.Fatal(err)
		}
	}
	link, err := desk.Locator("section.ask input").First().InputValue()
	if err != nil {
		t.Fatal(err)
	}
	p.next()
	p.wait(`() => document.querySelector("#strip-sync").innerText.includes("Access to the shop has ended")`)
	p.next()
	p.tap("#strip-sync")
	p.pictures("access-ended")
	accessible(t, p.page, "record screen without access")
	p.fill("#f-invite", link)
	p.fill("#f-name", "Test phone")
	p.tap("#join-form button[type=submit]")
	p.synced()
	if p.has("#join-form") {
		t.Error("who has joined again is asked to join")
	}
	compare(t, p, shop)
}
