/** The picture of one core on the shelf: its size in pixels, the air above the largest, the gap between both views. */
export const shelfPicture = { width: 190, height: 116, air: 12, gapMm: 12 } as const;
