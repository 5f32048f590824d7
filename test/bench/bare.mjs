// The plainest program that does what a start must do: opens a database in a folder and serves one file.
import Database from 'better-sqlite3';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { join } from 'node:path';

const [folder, page] = process.argv.slice(2);
const database = new Database(join(folder, 'bare.sqlite'));
database.pragma('journal_mode = WAL');
database.exec('CREATE TABLE IF NOT EXISTS thing (id INTEGER PRIMARY KEY) STRICT');
const body = readFileSync(page);
const server = createServer((_request, response) => response.end(body));
server.listen(0, '127.0.0.1', () => {
  process.stdout.write(`Bare is at http://127.0.0.1:${server.address().port}/\n`);
});
