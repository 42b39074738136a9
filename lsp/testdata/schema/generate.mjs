// Writes messages.json from messages.ts; with --check it compares instead, and
// fails where the file is stale.
import fs from 'node:fs';
import path from 'node:path';
import { createGenerator } from 'ts-json-schema-generator';

process.chdir(import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname));
const schema = createGenerator({
  path: 'messages.ts', tsconfig: 'tsconfig.json', type: 'Messages', skipTypeCheck: true, sortProps: true, jsDoc: 'none',
}).createSchema('Messages');

// The types are wider than the protocol in two places: a whole number is any
// number there, and the result of initialize may have any further field.
const whole = { type: 'integer', minimum: -(2 ** 31), maximum: 2 ** 31 - 1 };
const { definitions } = schema;
definitions.integer = whole;
definitions.uinteger = { ...whole, minimum: 0 };
definitions.InitializeResult.additionalProperties = false;
delete schema.$ref; // the root is no message
delete definitions.Messages;

const text = `${JSON.stringify(schema).replaceAll('},"', '},\n"')}\n`;
if (!process.argv.includes('--check')) {
  fs.writeFileSync('messages.json', text);
} else if (fs.readFileSync('messages.json', 'utf8') !== text) {
  console.error('lsp/testdata/schema/messages.json is stale: run npm run generate there');
  process.exit(1);
}
