import type { PictureShown } from '@corewright/contracts/pictures';

/** What a photograph is called for those who do not see it: its own words, else what it shows and which of them it is. */
export function pictureName(picture: PictureShown, index: number, subject: string): string {
  if (picture.words !== '') return picture.shows === 'marks' ? `Marks: ${picture.words}` : picture.words;
  return picture.shows === 'marks' ? `Marks of ${subject}, photograph ${index + 1}` : `Photograph ${index + 1} of ${subject}`;
}

export function countPhotographs(count: number): string {
  return count === 1 ? '1 photograph' : `${count} photographs`;
}
