import type { Leaf, ListNode } from './form-node.svelte.ts';
import { cellOf } from './list-columns.ts';
import { readPasted } from './paste-table.ts';
import { splitAtDoubt } from './read-leaf.ts';

interface PasteTarget {
  readonly list: ListNode;
  /** Keys of the columns shown, in their order. */
  readonly columns: readonly string[];
  readonly row: number;
  readonly column: number;
  /** Pasted into the box after the ±: those of this column alone are filled. */
  readonly isDoubt: boolean;
}

/**
 * Puts pasted rows into a list from one cell on, to the right and down, with new rows as needed. Returns what was done,
 * in words; null when the text is for one box alone. What has no room is counted in the words.
 */
export function pasteInto(
  target: PasteTarget,
  text: string,
): { readonly act: () => void; readonly words: string } | null {
  const table = readPasted(text);
  if (table === null) return null;
  const { list, columns, row, column, isDoubt } = target;
  const room = Math.min(table.rows.length, list.shape.atMost - row);
  const width = Math.max(...table.rows.map((cells) => cells.length));
  const across = isDoubt ? 1 : Math.min(width, columns.length - column);
  const act = () => {
    list.resize(Math.max(list.rows.length, row + room));
    for (const [down, cells] of table.rows.slice(0, room).entries()) {
      for (const [right, cell] of cells.slice(0, across).entries()) {
        const node = list.rows[row + down]?.node;
        const leaf = node === undefined ? null : cellOf(node, columns[column + right] ?? '');
        if (leaf !== null) putCell(leaf, cell, isDoubt);
      }
    }
  };
  const left = [
    ...(table.rows.length > room ? [`${table.rows.length - room} rows had no room`] : []),
    ...(width > across ? [`${width - across} ${width - across === 1 ? 'column' : 'columns'} had no room`] : []),
    ...(table.hadHeadings ? ['the line of headings was left out'] : []),
  ];
  const words = `${room} ${room === 1 ? 'row' : 'rows'} pasted${left.map((each) => `; ${each}`).join('')}`;
  return { act, words };
}

function putCell(leaf: Leaf, cell: string, isDoubt: boolean): void {
  if (isDoubt) leaf.doubt = cell;
  else if (leaf.shape.kind === 'flag') leaf.text = flagOf(cell);
  else {
    const [value, doubt] = leaf.shape.kind === 'measured' ? splitAtDoubt(cell) : [cell, null];
    leaf.text = value;
    if (doubt !== null) leaf.doubt = doubt;
  }
}

const flagOf = (cell: string): string =>
  /^(yes|y|true|1|x)$/i.test(cell) ? 'yes' : /^(no|n|false|0)$/i.test(cell) ? 'no' : '';
