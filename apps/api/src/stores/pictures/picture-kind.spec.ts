import { pictureKindOf } from './picture-kind.js';

const text = (words: string): number[] => Array.from(words, (letter) => letter.charCodeAt(0));

describe('what a file is, by how it begins', () => {
  it.each([
    ['jpeg', [0xff, 0xd8, 0xff, 0xe1, 0, 0]],
    ['png', [0x89, ...text('PNG'), 0x0d, 0x0a, 0x1a, 0x0a]],
    ['webp', [...text('RIFF'), 1, 2, 3, 4, ...text('WEBP')]],
  ])('%s is taken', (kind, bytes) => {
    expect(pictureKindOf(Uint8Array.from(bytes))).toEqual({ ok: true, value: { kind } });
  });

  it('says what to do with a phone’s HEIC', () => {
    const answer = pictureKindOf(Uint8Array.from([0, 0, 0, 24, ...text('ftypheic')]));
    expect(answer.ok ? '' : answer.error.detail).toContain('most compatible');
  });

  it.each([
    ['nothing', []],
    ['a script', text('<svg onload=alert(1)>')],
    ['a cut-off JPEG start', [0xff, 0xd8]],
    ['a RIFF that is sound', [...text('RIFF'), 1, 2, 3, 4, ...text('WAVE')]],
  ])('%s is refused', (_, bytes) => {
    expect(pictureKindOf(Uint8Array.from(bytes))).toMatchObject({ ok: false, error: { code: 'not-a-picture', status: 415 } });
  });
});
