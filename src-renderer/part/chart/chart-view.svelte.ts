import { isWhole, panned, zoomed, type XRange } from '../../../src-shared/chart/x-range.ts';

/** One key or button makes the range this much narrower or wider, or moves it by this share. */
const step = 1.6;
const share = 0.25;
const narrowestShare = 1e-5;

/** Which stretch of a chart is shown, and where its cursor is. */
export class ChartView {
  /** All there is; grows while a run goes on. */
  whole = $state.raw<XRange>({ from: 0, to: 1000 });
  /** Null: all there is, however much that becomes. */
  #chosen = $state.raw<XRange | null>(null);
  /** So much of the end, however far it goes; null when it is not followed. */
  #following = $state.raw<number | null>(null);
  /** Null: no cursor. */
  cursor = $state<number | null>(null);

  /** What is shown. */
  readonly range = $derived.by((): XRange => this.#chosen ?? this.#end() ?? this.whole);
  readonly showsWhole = $derived.by((): boolean => this.#chosen === null && this.#end() === null);
  readonly follows = $derived.by((): boolean => this.#following !== null);

  setWhole(whole: XRange): void {
    if (whole.from !== this.whole.from || whole.to !== this.whole.to) this.whole = whole;
  }

  show(range: XRange): void {
    this.#following = null;
    this.#chosen = isWhole(range, this.whole) ? null : range;
  }

  showWhole(): void {
    this.#following = null;
    this.#chosen = null;
  }

  /** Stays with the end as it grows, and shows so much before it. */
  follow(width: number): void {
    this.#chosen = null;
    this.#following = width;
  }

  #end(): XRange | null {
    const { from, to } = this.whole;
    return this.#following === null || to - from <= this.#following ? null : { from: to - this.#following, to };
  }

  /** Makes the range `factor` times as wide around a place; left out, around the cursor or its middle. */
  zoom(factor: number, around?: number): void {
    const { from, to } = this.range;
    const cursor = this.cursor !== null && this.cursor >= from && this.cursor <= to ? this.cursor : (from + to) / 2;
    const narrowest = Math.max((this.whole.to - this.whole.from) * narrowestShare, 1e-9);
    this.show(zoomed(this.range, this.whole, factor, around ?? cursor, narrowest));
  }

  nearer(): void {
    this.zoom(1 / step);
  }

  farther(): void {
    this.zoom(step);
  }

  /** Moves the range by so much of x. */
  pan(by: number): void {
    if (!this.showsWhole) this.show(panned(this.range, this.whole, by));
  }

  earlier(): void {
    this.pan(-(this.range.to - this.range.from) * share);
  }

  later(): void {
    this.pan((this.range.to - this.range.from) * share);
  }

  /** Puts the cursor so much of the width further on, into sight. */
  moveCursor(byShare: number): void {
    const { from, to } = this.range;
    const width = to - from;
    const at = this.cursor === null || this.cursor < from || this.cursor > to ? from + width / 2 : this.cursor;
    const next = Math.min(this.whole.to, Math.max(this.whole.from, at + width * byShare));
    this.cursor = next;
    if (next < from || next > to) this.pan(next < from ? next - from : next - to);
  }
}
