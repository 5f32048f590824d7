import type * as v from 'valibot';
import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { Requests } from '../../src-shared/contract/request.ts';

/** One request's two schemas: what goes in, what comes back. */
export interface Exchange {
  readonly input: v.GenericSchema;
  readonly output: v.GenericSchema;
}

/** Everything that can be asked, by name. */
export type RequestTable = Readonly<Record<string, Exchange>>;

/** The same value with every part `readonly`, so that a service may hand out what it keeps. */
export type Frozen<T> = T extends readonly (infer E)[]
  ? readonly Frozen<E>[]
  : T extends object
    ? { readonly [K in keyof T]: Frozen<T[K]> }
    : T;

/** What answers one request: given its checked input, a value or an expected failure, now or later. */
export type Service<E extends Exchange> = (
  input: v.InferOutput<E['input']>,
) => Outcome<Frozen<v.InferOutput<E['output']>>> | Promise<Outcome<Frozen<v.InferOutput<E['output']>>>>;

export type ServicesOf<T extends RequestTable> = { readonly [N in keyof T]: Service<T[N]> };

/** What a host carries: one function for every request of the contract. */
export type Services = ServicesOf<Requests>;

/** Hears every push until the returned function is called. */
export type Subscribe = (listener: (push: Push) => void) => () => void;
