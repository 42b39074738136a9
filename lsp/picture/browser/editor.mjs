// An editor for tests: it starts the real server and speaks the protocol with
// it over its standard streams.
import { spawn } from 'node:child_process';

export class Editor {
  constructor(program, capabilities) {
    this.process = spawn(program, ['lsp'], { stdio: ['pipe', 'pipe', 'inherit'] });
    this.exited = new Promise((done) => this.process.on('exit', done));
    this.answers = new Map();
    this.asked = []; // the server's requests, in their order
    this.last = 0;
    this.capabilities = capabilities;
    let rest = Buffer.alloc(0);
    this.process.stdout.on('data', (data) => {
      rest = Buffer.concat([rest, data]);
      for (;;) {
        const end = rest.indexOf('\r\n\r\n');
        if (end < 0) return;
        const size = Number(/Content-Length: (\d+)/i.exec(rest.subarray(0, end).toString())[1]);
        if (rest.length < end + 4 + size) return;
        this.#came(JSON.parse(rest.subarray(end + 4, end + 4 + size)));
        rest = rest.subarray(end + 4 + size);
      }
    });
  }

  #came(message) {
    if (message.method === undefined) {
      this.answers.get(message.id)?.(message);
    } else if (message.id !== undefined) {
      this.asked.push(message);
      this.#send({ id: message.id, result: { success: true } });
    }
  }

  #send(message) {
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }));
    this.process.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
    this.process.stdin.write(body);
  }

  notify(method, params) {
    this.#send({ method, params });
  }

  async call(method, params) {
    const id = ++this.last;
    const answer = await new Promise((done) => {
      this.answers.set(id, done);
      this.#send({ id, method, params });
    });
    if (answer.error) throw new Error(`${method}: ${answer.error.message}`);
    return answer.result;
  }

  async open(uri, text) {
    await this.call('initialize', { processId: process.pid, rootUri: null, capabilities: this.capabilities });
    this.notify('initialized', {});
    this.version = 1;
    this.uri = uri;
    this.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'hem', version: 1, text } });
  }

  edit(text) {
    this.notify('textDocument/didChange', { textDocument: { uri: this.uri, version: ++this.version }, contentChanges: [{ text }] });
  }

  cursor(line, character) {
    this.notify('hemline/cursor', { textDocument: { uri: this.uri }, position: { line, character } });
  }

  /** The next request to show a text, not a page, from number `from` on. */
  async shown(from) {
    for (let i = 0; i < 500; i++) {
      const found = this.asked.slice(from).find((m) => m.method === 'window/showDocument' && !m.params.external);
      if (found) return found.params;
      await new Promise((r) => setTimeout(r, 10));
    }
    throw new Error(`the editor was asked nothing; before: ${JSON.stringify(this.asked)}`);
  }

  async quit() {
    await this.call('shutdown');
    this.notify('exit');
    return this.exited;
  }
}
