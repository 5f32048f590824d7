/** Cautions that the pages show, by their id in the trade. Each has one place and stays reachable from there. */
export const cautionTexts = {
  'c-first':
    'This program reads and records. It cannot switch anything off or make anything dead. Rules for mains work differ ' +
    'by place: follow your local code, and ask a licensed electrician where it asks for one.',
  'c-cap':
    'A microwave oven keeps thousands of volts in its capacitor after the plug is out. Discharge it through a resistor ' +
    'made for it, then join its terminals. An ordinary meter is not made for that voltage. Not sure? Leave the oven closed.',
  'c-mag': 'Leave the magnetron whole: its pink or white ceramic can be poisonous as dust.',
  'c-unknown':
    'This winding’s turns are not known. With power on it may stand at thousands of volts. Insulate each end alone, or ' +
    'take the winding out before testing.',
  'c-core':
    'One end of this winding is joined to the core. Without an earth wire the core itself can stand at that winding’s ' +
    'voltage.',
  'c-shunt': 'With the shunts out this transformer can feed a much larger fault current. Choose fuse and wire again.',
} as const satisfies Readonly<Record<string, string>>;
