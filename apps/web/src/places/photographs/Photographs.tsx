import type { PictureShown } from '@corewright/contracts/pictures';
import { useEffect, useState } from 'react';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { useQueue } from '../../api/use-queue.js';
import { Fold } from '../../ui/Fold.js';
import styles from './Photographs.module.css';
import { PhotographViewer } from './PhotographViewer.js';
import { picturesOf, pictures as queue } from './pictures.js';
import { countPhotographs, pictureName } from './say-photographs.js';
import { takenPictureOf } from './send-picture.js';

export interface PhotographsProps {
  readonly pictures: readonly PictureShown[];
  /** whose they are, for ears: "Rear axle, WD7" */
  readonly subject: string;
  /** what this device has taken of these and not sent yet is shown too */
  readonly subjectIds: readonly string[];
}

/** Photographs side by side; each opens in full. Those struck out are folded away. */
export function Photographs({ pictures, subject, subjectIds }: PhotographsProps) {
  const snapshot = useQueue(queue);
  const waiting = subjectIds.flatMap((id) => picturesOf(snapshot, id).waiting);
  const struck = pictures.filter(({ struckOut }) => struckOut !== null);
  const standing = pictures.filter(({ struckOut }) => struckOut === null);
  return (
    <>
      {standing.length + waiting.length > 0 && <Strip pictures={standing} subject={subject} waiting={waiting} />}
      {struck.length > 0 && (
        <Fold summary={`${countPhotographs(struck.length)} struck out`}>
          <Strip pictures={struck} subject={subject} waiting={[]} />
        </Fold>
      )}
    </>
  );
}

interface StripProps {
  readonly pictures: readonly PictureShown[];
  readonly subject: string;
  readonly waiting: readonly QueuedCommand[];
}

function Strip({ pictures, subject, waiting }: StripProps) {
  const [openId, setOpenId] = useState<string | null>(null);
  return (
    <>
      <ul className={styles.strip}>
        {pictures.map((picture, index) => (
          <li key={picture.id}>
            <button type="button" className={styles.open} onClick={() => setOpenId(picture.id)}>
              <img src={`/api/pictures/${picture.id}/small`} alt={pictureName(picture, index, subject)} loading="lazy" />
            </button>
            <Underneath picture={picture} />
          </li>
        ))}
        {waiting.map((command) => (
          <NotSentYet key={command.key} command={command} />
        ))}
      </ul>
      {openId !== null && <PhotographViewer pictures={pictures} subject={subject} openId={openId} onOpen={setOpenId} />}
    </>
  );
}

function Underneath({ picture }: { readonly picture: PictureShown }) {
  const words = [picture.shows === 'marks' ? 'marks' : null, picture.words === '' ? null : picture.words].filter(
    (each) => each !== null,
  );
  if (picture.struckOut !== null)
    return (
      <span className={styles.words}>
        struck out by {picture.struckOut.by}: {picture.struckOut.why}
      </span>
    );
  return words.length === 0 ? null : <span className={styles.words}>{words.join(': ')}</span>;
}

/** What this device holds is shown at once, from the device. */
function NotSentYet({ command }: { readonly command: QueuedCommand }) {
  const { picture } = takenPictureOf(command);
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    const made = URL.createObjectURL(picture);
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [picture]);
  return (
    <li>
      {address !== null && <img className={styles.unsent} src={address} alt="Photograph that is on its way" />}
      <span className={styles.words}>on its way</span>
    </li>
  );
}
