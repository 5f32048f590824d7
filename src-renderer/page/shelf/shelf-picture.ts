/** The same where the shelf is ranked for a need, and bars want the room. */
export const rankedPicture = { width: 144, height: 104, air: 12, gapMm: 12 } as const;

/** The picture of one core on the shelf: its size in pixels, the air above the largest, the gap between both views. */
export const shelfPicture = { width: 190, height: 116, air: 12, gapMm: 12 } as const;
