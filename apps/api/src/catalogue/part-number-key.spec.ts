import { partNumberKey } from './part-number-key.js';

describe('the key by which a part number is found', () => {
  it.each(['48-2217', '48 2217', '48.2217', ' 48–2217 ', '48/2217', '４８2217'])('is the same for %s', (keyed) => {
    expect(partNumberKey(keyed)).toBe('482217');
  });

  it('takes small letters and keeps letters beyond English', () => {
    expect(partNumberKey('cx t45-ü')).toBe('CXT45Ü');
  });

  it('is empty where nothing of it is a letter or a digit', () => {
    expect(partNumberKey('-- / ?')).toBe('');
  });
});
