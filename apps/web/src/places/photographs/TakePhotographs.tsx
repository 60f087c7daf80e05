import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { useQueue } from '../../api/use-queue.js';
import { keepPicture, pictures, picturesOf } from './pictures.js';
import { useReached } from './reached.js';
import { takenPictureOf } from './send-picture.js';
import styles from './TakePhotographs.module.css';

export interface TakePhotographsProps {
  readonly subjectId: string;
  /** how many the server has */
  readonly taken: number;
  /** what is taken from now on shows the marks */
  readonly ofMarks?: boolean;
  /** choosing some that are there is offered elsewhere (`ChoosePictures`) */
  readonly isCameraAlone?: boolean;
}

/** Takes photographs with the device's camera, or chooses some that are there. Each is kept on this device until the server has it. */
export function TakePhotographs({ subjectId, taken, ofMarks = false, isCameraAlone = false }: TakePhotographsProps) {
  const client = useQueryClient();
  const { waiting, needsYou } = picturesOf(useQueue(pictures), subjectId);
  useEffect(
    () =>
      pictures.onSettled(() => {
        for (const area of ['goods-in', 'jobs', 'bench', 'settings', 'counting'])
          void client.invalidateQueries({ queryKey: [area] });
        void client.invalidateQueries({ queryKey: ['stores', 'thing', subjectId] });
      }),
    [client, subjectId],
  );
  const keep = (files: FileList | null) => keepAll(subjectId, files, ofMarks);
  return (
    <span className={styles.picture}>
      <span className={styles.ways}>
        <FileButton words={taken === 0 ? 'Photograph' : `Photograph: ${taken} taken`} isCamera onFiles={keep} />
        {!isCameraAlone && <FileButton words="Choose pictures" isCamera={false} onFiles={keep} />}
      </span>
      {waiting.length > 0 && <Waiting waiting={waiting} />}
      {needsYou.map((command) => (
        <Refused key={command.key} command={command} />
      ))}
    </span>
  );
}

/** Chooses photographs that are there. What becomes of them is said where they are taken. */
export function ChoosePictures({ subjectId }: { readonly subjectId: string }) {
  return <FileButton words="Choose pictures" isCamera={false} onFiles={(files) => keepAll(subjectId, files, false)} />;
}

async function keepAll(subjectId: string, files: FileList | null, ofMarks: boolean): Promise<void> {
  for (const file of files ?? []) await keepPicture(subjectId, file, ofMarks);
}

interface FileButtonProps {
  readonly words: string;
  readonly isCamera: boolean;
  readonly onFiles: (files: FileList | null) => Promise<void>;
}

function FileButton({ words, isCamera, onFiles }: FileButtonProps) {
  return (
    <label data-file="" className={styles.pictureLabel}>
      <input
        type="file"
        accept="image/*"
        {...(isCamera ? { capture: 'environment' } : { multiple: true })}
        className="hidden"
        onChange={(event) => {
          const field = event.target;
          void onFiles(field.files).then(() => {
            field.value = '';
          });
        }}
      />
      {words}
    </label>
  );
}

function Waiting({ waiting }: { readonly waiting: readonly QueuedCommand[] }) {
  const [first] = waiting;
  const share = useReached(first === undefined ? '' : takenPictureOf(first).id);
  return (
    <span className={styles.waits}>
      <span role="status">{waitingWords(waiting)}</span>
      {share !== null && <span aria-hidden="true"> {Math.round(share * 100)} %</span>}
    </span>
  );
}

function Refused({ command }: { readonly command: QueuedCommand }) {
  if (command.state.kind !== 'needs-you') return null;
  return (
    <span role="alert" className={styles.trouble}>
      {command.state.reason.title}: {command.state.reason.detail}{' '}
      <button type="button" className={styles.again} onClick={() => void pictures.tryAgain(command.key)}>
        send it again
      </button>{' '}
      <button type="button" className={styles.again} onClick={() => void pictures.dismiss(command.key)}>
        throw it away
      </button>
    </span>
  );
}

function waitingWords(waiting: readonly QueuedCommand[]): string {
  const [first] = waiting;
  const trouble = first?.state.kind === 'waiting' ? first.state.trouble : null;
  const what = waiting.length === 1 ? '1 photograph' : `${waiting.length} photographs`;
  return trouble === null ? `Sending ${what} …` : `${what} kept on this device: ${trouble}`;
}
