import { expect, it } from 'vitest';
import { identityInWords, readIdentity } from '../../../src-shared/meter/identity.ts';

// IEEE 488.2-1992, 10.14: four fields parted by commas, `0` for a serial number or firmware level that is not there.
it.each([
  ['INVENTED,TEST 1,42,1.0', { maker: 'INVENTED', model: 'TEST 1', serial: '42', firmware: '1.0' }],
  ['INVENTED,TEST 1,0,0', { maker: 'INVENTED', model: 'TEST 1', serial: null, firmware: null }],
  ['*IDN INVENTED, TEST 1', { maker: 'INVENTED', model: 'TEST 1', serial: null, firmware: null }],
  ['"INVENTED","TEST 1","42","1.0","extra"', { maker: 'INVENTED', model: 'TEST 1', serial: '42', firmware: '1.0' }],
  ['+1.186E+02', null],
  ['', null],
  [',,,', null],
])('reads who %s is', (answer, identity) => expect(readIdentity(answer)).toEqual(identity));

it('says it in a sentence', () => {
  expect(identityInWords('INVENTED,TEST 1,42,1.0')).toBe(
    'It says that it is INVENTED TEST 1, serial number 42, firmware 1.0.',
  );
  expect(identityInWords('INVENTED,TEST 1,0,0')).toBe('It says that it is INVENTED TEST 1.');
  expect(identityInWords('118.6')).toBe('It answers, but does not say who it is.');
});
