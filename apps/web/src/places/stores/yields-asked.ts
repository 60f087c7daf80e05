import { oneText } from '../../routes/search.js';

/** Whose cores are asked about, as the address keeps it; empty is not asked for. */
export interface YieldsAsked {
  readonly type: string;
  readonly grade: string;
  readonly load: string;
  readonly seller: string;
  /** for how many good ones cores are to be bought, as it is keyed */
  readonly wanted: string;
}

export const noYieldsAsked: YieldsAsked = { type: '', grade: '', load: '', seller: '', wanted: '1' };

export function readYieldsAsked(search: Record<string, unknown>): Partial<YieldsAsked> {
  return {
    ...oneText(search, 'type'),
    ...oneText(search, 'grade'),
    ...oneText(search, 'load'),
    ...oneText(search, 'seller'),
    ...oneText(search, 'wanted'),
  };
}
