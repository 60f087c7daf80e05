import { fitLine, fitLines, sizeFor } from './fit-text.js';
import type { MeasureText } from './label-scene.js';

/** Every character half an em: a line of 100 dots holds 20 characters at size 10. */
const measure: MeasureText = (text, _font, size) => [...text].length * size * 0.5;
const room = { font: 'text' as const, size: 12, sizeMin: 10, width: 100 };

describe('fitting text', () => {
  it('keeps the size that is wished for where it can', () => {
    expect(fitLine('sixteen letters!', room, measure)).toEqual({ lines: ['sixteen letters!'], size: 12, shortened: false });
  });

  it('shrinks before it cuts', () => {
    expect(fitLine('nineteen characters', room, measure)).toEqual({
      lines: ['nineteen characters'],
      size: 10.5,
      shortened: false,
    });
    expect(sizeFor('a text of twenty-one.', room, measure)).toBeNull();
  });

  it('cuts at the least size with an ellipsis that fits too', () => {
    const fitted = fitLine('a text of more than twenty', room, measure);
    expect(fitted).toEqual({ lines: ['a text of more than…'], size: 10, shortened: true });
  });

  it('breaks between words', () => {
    expect(fitLines('a text that takes three lines of it', room, 3, measure)).toEqual({
      lines: ['a text that takes', 'three lines of it'],
      size: 10,
      shortened: false,
    });
    // The line is full to the last dot, and the gap comes just after it.
    expect(fitLines('exactly twenty here. And on', room, 2, measure).lines).toEqual(['exactly twenty here.', 'And on']);
  });

  it('breaks within a word that is wider than the room', () => {
    expect(fitLines('Achsantriebsgehäusedeckelschraube', room, 2, measure).lines).toEqual([
      'Achsantriebsgehäused',
      'eckelschraube',
    ]);
  });

  it('cuts the last line only', () => {
    expect(fitLines('one two three four five six seven eight nine', room, 2, measure)).toEqual({
      lines: ['one two three four', 'five six seven eigh…'],
      size: 10,
      shortened: true,
    });
  });

  it('does not split a character of two units', () => {
    const fitted = fitLine('𝛼'.repeat(30), room, measure);
    expect(fitted.lines[0]).toBe(`${'𝛼'.repeat(19)}…`);
  });

  it('makes nothing of an empty text', () => {
    expect(fitLine('', room, measure)).toEqual({ lines: [''], size: 12, shortened: false });
    expect(fitLines('  ', room, 2, measure).lines).toEqual([]);
  });
});
