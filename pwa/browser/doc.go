// Package browser is the seam between Go and the page: the client's ports over
// syscall/js. The other side is pwa/static; its boot.js repeats this text.
//
// # What Go gives the page
//
// One global, strutcard:
//
//	start()           Promise of a reply; reads the log and paints
//	act(name, args)   Promise of a reply; args is a JSON object of strings
//	input(key, value) keeps a half-typed value; returns nothing
//
// A reply is a JSON text {"ok":bool,"message":…,"hint":…}. Acts and inputs are
// carried out one after another, in the order of the calls; "sync" alone runs
// beside them, since it waits for a network. No call blocks the event loop. A
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
//	env()       {online, standalone, persisted, offlineReady, updateReady, storage, leader, wake}
//	persist()  wake(on)  print()  alarm()  applyUpdate()  theme(name)  download(name, type, text)
//	inspect()   Promise of {files, how, persisted, photos, free}: "yes", "no", or "" for not found out;
//	            free is in bytes, -1 for unknown
//	photos      size(sha256): Promise of the bytes of a kept picture, 0 when it is not here
//	log         see below; every function returns a Promise
//
// And host.log. A line is an event's canonical JSON and crosses as text, never
// parsed and written again, so that its bytes and hash survive.
//
//	append(actor, lines, pending, received)  array of "stored", "duplicate", "conflict:id", "conflict:seq";
//	                                         resolves when the transaction is complete, all or nothing
//	job(job)                       its lines joined by "\n"
//	jobs()                         array of job ids in order of arrival
//	after(job, device, pos, limit) JSON array of store.Record
//	pending(limit)                 lines joined by "\n"
//	waiting()                      number
//	settle(verdicts)               JSON array of store.Verdict in
//	adopt(records)                 JSON array of {line, received, actor} in
//	forget(device)
//	troubled()                     JSON array of store.Verdict
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
package browser
