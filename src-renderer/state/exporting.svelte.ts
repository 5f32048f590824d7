import type { ExportAsked, ExportView } from '../../src-shared/contract/export-view.ts';
import type { Connection } from './connection.svelte.ts';

/** Saves what the browser is given at an address of the program, as a link that was followed does. */
export function saveFrom(address: string, page: Document): void {
  const link = page.createElement('a');
  link.href = address;
  link.download = '';
  link.click();
}

/** A file on its way to the person: asked for, made, fetched. One at a time. */
export class Exporting {
  view = $state.raw<ExportView | null>(null);
  /** What became of the last one, for the person. */
  said = $state('');
  problem = $state<string | null>(null);
  readonly #connection: Connection;
  readonly #save: (address: string) => void;
  readonly #end: () => void;
  /** Pushes may come before the answer that says which number to look for. */
  readonly #heard = new Map<number, ExportView>();

  constructor(connection: Connection, save: (address: string) => void) {
    this.#connection = connection;
    this.#save = save;
    this.#end = connection.onPush((push) => {
      if (push.kind === 'export') this.#hear(push.export);
    });
  }

  get isWorking(): boolean {
    return this.view?.state === 'working';
  }

  async start(asked: ExportAsked): Promise<void> {
    if (this.isWorking) return;
    this.problem = null;
    this.said = '';
    this.#heard.clear();
    const outcome = await this.#connection.ask('export.start', { asked });
    if (!outcome.ok) {
      this.problem = outcome.failure.message;
      return;
    }
    this.view = outcome.value;
    const heard = this.#heard.get(outcome.value.exportId);
    if (heard !== undefined) this.#hear(heard);
  }

  async cancel(): Promise<void> {
    if (this.view === null) return;
    await this.#connection.ask('export.cancel', { exportId: this.view.exportId });
  }

  stop(): void {
    this.#end();
    if (this.isWorking) void this.cancel();
  }

  #hear(view: ExportView): void {
    if (this.view?.exportId !== view.exportId) {
      this.#heard.set(view.exportId, view);
      return;
    }
    this.view = view;
    if (view.state === 'ready') void this.#fetch(view);
    if (view.state === 'failed') this.problem = view.message;
    if (view.state === 'cancelled') this.said = 'Cancelled. Nothing of it is kept.';
  }

  async #fetch({ exportId, name }: ExportView): Promise<void> {
    const outcome = await this.#connection.ask('export.fetch', { exportId });
    if (!outcome.ok) {
      this.problem = outcome.failure.message;
      return;
    }
    const { value } = outcome;
    if (value.kind === 'download') {
      this.#save(value.address);
      this.said = `${name ?? 'The file'} is with your browser’s downloads.`;
    } else if (value.kind === 'saved') {
      this.said = `Saved as ${value.file}.`;
    } else {
      this.said = 'Not saved.';
    }
  }
}
