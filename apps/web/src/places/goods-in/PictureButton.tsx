import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { useQueue } from '../../api/use-queue.js';
import styles from './PictureButton.module.css';
import { keepPicture, pictures, picturesOf } from './pictures.js';

export interface PictureButtonProps {
  readonly subjectId: string;
  /** how many the server has */
  readonly taken: number;
}

/** Takes a photograph with the phone's camera, or from a file. It is kept on this device until the server has it. */
export function PictureButton({ subjectId, taken }: PictureButtonProps) {
  const client = useQueryClient();
  const { waiting, needsYou } = picturesOf(useQueue(pictures), subjectId);
  useEffect(
    () =>
      pictures.onSettled(() => {
        void client.invalidateQueries({ queryKey: ['goods-in'] });
        void client.invalidateQueries({ queryKey: ['stores', 'thing', subjectId] });
      }),
    [client, subjectId],
  );
  return (
    <span className={styles.picture}>
      <label data-file="" className={styles.pictureLabel}>
        <input
          type="file"
          accept="image/*"
          capture="environment"
          className="hidden"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file !== undefined) void keepPicture(subjectId, file);
            event.target.value = '';
          }}
        />
        {taken === 0 ? 'Photograph' : `Photograph: ${taken} taken`}
      </label>
      {waiting.length > 0 && (
        <span role="status" className={styles.waits}>
          {waitingWords(waiting)}
        </span>
      )}
      {needsYou.map((command) => (
        <Refused key={command.key} command={command} />
      ))}
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
