import { readFastenerAsked } from './fastener-asked.js';

describe('a fastener in the address', () => {
  it('is read back as it was asked, figures that the router takes for numbers included', () => {
    expect(
      readFastenerAsked({ outside: 7.9, unit: 'mm', pitch: '18', kind: 'tpi', state: 'worn', off: 0.2, flanks: 47.5 }),
    ).toEqual({
      outside: '7.9',
      unit: 'mm',
      pitch: '18',
      kind: 'tpi',
      state: 'worn',
      off: '0.2',
      flanks: '47.5',
    });
  });

  it('leaves out what is no choice', () => {
    expect(readFastenerAsked({ outside: ['7'], unit: 'furlong', kind: 3, state: 'bent', flanks: 29 })).toEqual({});
  });
});
