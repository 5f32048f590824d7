import * as v from 'valibot';
import { badInput, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Exchange, RequestTable, Service, ServicesOf } from './service.ts';

/** One request, ready for input from outside. */
export interface Route {
  /** The service's outcome, or `bad-input` with the path. Rejects only when the service throws: a bug. */
  answer(input: unknown): Promise<Outcome<unknown>>;
  /** What is wrong with a reply as it arrives on the other side; null when it fits its schema. */
  misfit(value: unknown): string | null;
}

function routeOf<E extends Exchange>(exchange: E, service: Service<E>): Route {
  return {
    async answer(input) {
      const read = v.safeParse(exchange.input, input);
      return read.success ? service(read.output) : badInput(read.issues);
    },
    misfit(value) {
      const read = v.safeParse(exchange.output, value);
      return read.success ? null : v.summarize(read.issues);
    },
  };
}

/** Every request of the table with its service, by name. A Map, so that no inherited name is found in it. */
export function routesOf<T extends RequestTable>(table: T, services: ServicesOf<T>): ReadonlyMap<string, Route> {
  const routes = new Map<string, Route>();
  for (const name in table) routes.set(name, routeOf(table[name], services[name]));
  return routes;
}
