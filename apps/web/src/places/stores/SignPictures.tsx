import styles from './Identify.module.css';

export interface SignPicturesProps {
  /** what they show, for ears and beneath them */
  readonly what: string;
  readonly pictures: readonly string[];
}

/** Photographs of a sign, to be held beside what stands there; each opens in full on a page of its own, so that nothing keyed is lost. */
export function SignPictures({ what, pictures }: SignPicturesProps) {
  if (pictures.length === 0) return null;
  return (
    <ul className={styles.signs} aria-label={`Photographs: ${what}`}>
      {pictures.map((id, index) => (
        <li key={id}>
          <a href={`/api/pictures/${id}/full`} target="_blank" rel="noreferrer">
            <img
              className={styles.picture}
              src={`/api/pictures/${id}/small`}
              alt={`${what}, photograph ${index + 1} in full`}
              loading="lazy"
            />
          </a>
        </li>
      ))}
    </ul>
  );
}
