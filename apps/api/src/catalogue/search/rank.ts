/** How near something that was found comes to what was keyed, the nearest first. */
export const rankOf = { itself: 0, butForZerosOrMaker: 1, begins: 2, holds: 3, words: 4, oneError: 5, alike: 6 } as const;
export type Rank = (typeof rankOf)[keyof typeof rankOf];
