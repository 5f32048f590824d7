import { failed } from '../../src-shared/contract/failure.ts';
import { requests } from '../../src-shared/contract/request.ts';
import type { Services } from '../../src-main/host/service.ts';

/** Services of a program that has nothing: every request that fits is answered with `not-found`. */
export const emptyServices = Object.fromEntries(
  Object.keys(requests).map((name) => [name, () => failed('not-found', 'There is nothing here.')]),
) as unknown as Services;
