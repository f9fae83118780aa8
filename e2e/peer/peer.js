// peer.js replicates lines to a server of its own over loopback and prints how
// many milliseconds that took. It is the bench's yardstick and ships nowhere.
"use strict";
const express = require("express");
const fs = require("node:fs");
const path = require("node:path");
const PouchDB = require("pouchdb");
const serve = require("express-pouchdb");

const [file, folder] = process.argv.slice(2);
const docs = fs.readFileSync(file, "utf8").trim().split("\n").map((line) => ({ _id: JSON.parse(line).id, line }));

const app = express();
app.use("/", serve(PouchDB.defaults({ prefix: folder + path.sep }), { mode: "minimumForPouchDB", inMemoryConfig: true, logPath: path.join(folder, "log.txt") }));
const listener = app.listen(0, "127.0.0.1", async () => {
  const local = new PouchDB(path.join(folder, "local"));
  await local.bulkDocs(docs);
  const start = performance.now();
  const result = await local.replicate.to(`http://127.0.0.1:${listener.address().port}/events`, { batch_size: 500 });
  const took = performance.now() - start;
  if (result.docs_written !== docs.length) throw new Error(`${result.docs_written} of ${docs.length} were written`);
  console.log(took.toFixed(1));
  process.exit(0);
});
