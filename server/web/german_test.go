package web

import (
	"bytes"
	"strings"
	"testing"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/templates"
)

// TestGerman: sentences that are put together are German, and what is kept is not.
func TestGerman(t *testing.T) {
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	n := namer{}
	for want, got := range map[string]string{
		"Rollen geändert von Prüfer Autor zu Verwalter":     shop.Entry{What: "Roles changed from reviewer author to administrator"}.Words(),
		"Abgeschlossene Aufträge werden 30 Tage aufbewahrt": shop.Entry{What: "Finished jobs are kept for 30 days"}.Words(),
		"an der Befehlszeile des Servers":                   shop.Entry{Who: shop.AtTheServer}.Writer(),
		"Finished":                                          shop.Entry{Who: "Ann", Reason: "Finished"}.Why(), // her word

		"Vor dem Ablassen, Vorderachse: c übergangen. Grund: r": n.answerWords(&event.CheckAnswered{Axle: event.Front, Move: event.Lower, Check: "c", Answer: event.Override, Reason: "r"}),
		"Angezogen, Durchgang „Endanzug“: f, 110,5 N·m, 90°.":   n.passWords(&event.PassDone{Fastener: "f", Pass: "final", TorqueCNM: 11_050, AngleMdeg: 90_000}),
		"Äußere":                sentence("äußere"),
		"Ann, gegen Seite 3":    confirmedWords("Ann" + against + "Seite 3"),
		"+2,5 %":                offWords(250),
		"1 Auftrag, 2 Aufträge": jobsWords(1) + ", " + jobsWords(2),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	for _, text := range []string{shop.KeptLongEnough, shop.AccessEnded, shop.PasswordChanged, shop.PasswordLinkMade, shop.PasswordSet,
		shop.JobDeleted, shop.JobExported, shop.ShopExported, shop.KeptForEver, shop.AccountMade, shop.Invited} {
		if lang.T(text) == text {
			t.Errorf("the catalogue lacks %q", text)
		}
	}
	var b bytes.Buffer
	if err := templates.SignInPage(templates.SignIn{}).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	if page := b.String(); !strings.Contains(page, `<html lang="de">`) || !strings.Contains(page, "Passwort") {
		t.Errorf("the page is not German:\n%s", page)
	}
}
