// Package browser is the seam between Go and the page: the client's ports over
// syscall/js. The other side is pwa/static; its boot.js repeats this text.
//
// # What Go gives the page
//
// One global, strutcard:
//
//	start()           Promise of a reply; reads the log and paints
//	act(name, args)   Promise of a reply; args is a JSON object of strings
//	input(key, value) Promise of a reply; keeps a half-typed value, and until it
//	                  has, the page lets no paint undo the typing
//
// A reply is a JSON text {"ok":bool,"message":…,"hint":…}. Acts and inputs are
// carried out one after another, in the order of the calls; those that wait for
// a network (client.Waits) run beside them. No call blocks the event loop. A
// panic fails its call, is written to the console, and ends the program: the
// page starts a fresh one, which finds everything in the log.
//
// # What the page gives Go
//
// One global, host, set before the program starts. A promise that rejects with
// an error named QuotaExceededError means that the phone is full.
//
//	paint(regions)                              {id: html}
//	http(method, path, body, token, timeoutMs)  Promise of {status, type, body}; body is bytes
//	env()       {online, standalone, persisted, offlineReady, updateReady, storage, leader, wake,
//	            install: "prompt", "share" or ""}
//	persist()  install()  wake(on)  print()  alarm()  applyUpdate()  theme(name)  download(name, type, text)
//	remember(key, value)  recall(key)           small texts in a place of their own
//	words(tag)  Promise of {tag, words}: the catalogue of a language, "" for English. The tag
//	            "" stands for the language chosen before, or the phone's own
//	inspect()   Promise of {files, how, persisted, photos, free}: "yes", "no", or "" for not found out;
//	            free is in bytes, -1 for unknown
//	photos      size(sha256): Promise of the bytes of a kept picture, 0 when it is not here;
//	            send(token, epoch, wanted): Promise that resolves when it can carry no more;
//	            progress(): {done, of, bytesDone, bytesOf, trouble}
//	log         see below; every function returns a Promise
//
// And host.log. A line is an event's canonical JSON and crosses as text, never
// parsed and written again, so that its bytes and hash survive.
//
//	write(lines)    array of "stored", "duplicate", "conflict:id", "conflict:seq";
//	                resolves when the transaction is complete, all or nothing
//	take(change)    JSON of store.Change in, with lines for its events; an array of
//	                outcomes as above, or "moved" when what was is no longer so
//	job(job)        its lines joined by "\n"
//	jobs()          array of job ids in order of arrival
//	pending(limit)  lines joined by "\n"
//	waiting()       number
//	troubled()      JSON array of store.Verdict
//	meta(name)  setMeta(name, value)
//
// Pictures themselves never cross. The page keeps one, then calls act "photo" with
// its sha256, bytes, width and height, or "no_photo" with the name of the error.
//
// # History
//
//   - 2026-11-25: first version.
//   - 2026-11-25: print() opens the print dialogue.
//   - 2026-11-25: alarm() sounds and vibrates once; the page calls the acts
//     "arrive" when it comes back into view and "tick" every 15 s while in view.
//   - 2026-11-25: inspect and photos, for pictures and for working without a signal.
//   - 2026-11-28: write and take stand for append, settle, adopt and forget: what a
//     reply changes is one transaction. The database is at version 2: two events
//     may hold one place in a chain.
//   - 2026-11-28: photos.send and photos.progress carry pictures to the shop, and
//     from there to other phones. The database of photos is at version 2.
//   - 2026-11-28: input() gives a promise.
//   - 2026-11-28: "join" runs beside the other acts, as "sync" does.
//   - 2026-11-29: what is kept as "view" is also a place of the browser's own Back,
//     which brings it again with the act "back".
//   - 2026-11-29: words() brings a language's catalogue.
//   - 2026-11-29: install() puts the app on the home screen; env() says how it can be done.
package browser
