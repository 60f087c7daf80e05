import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { asProblem } from '../../api/problem.js';
import { newKey } from '../../api/uuid.js';
import { takePicture } from './actions.js';
import styles from './PictureButton.module.css';

export interface PictureButtonProps {
  readonly subjectId: string;
  /** A photograph hangs on a thing that the server knows: until then the button waits. */
  readonly isSaved: boolean;
  readonly taken: number;
}

/** Takes a photograph with the phone's camera, or from a file. The picture stays here until the server has it. */
export function PictureButton({ subjectId, isSaved, taken }: PictureButtonProps) {
  const client = useQueryClient();
  const fileRef = useRef<HTMLInputElement>(null);
  const [waiting, setWaiting] = useState<{ file: Blob; key: string } | null>(null);
  const take = useMutation({
    mutationFn: (picture: { file: Blob; key: string }) => takePicture(subjectId, picture.file, picture.key),
    onSuccess: () => {
      setWaiting(null);
      void client.invalidateQueries({ queryKey: ['goods-in'] });
      void client.invalidateQueries({ queryKey: ['stores', 'thing', subjectId] });
    },
  });
  const send = (picture: { file: Blob; key: string }) => {
    setWaiting(picture);
    take.mutate(picture);
  };
  return (
    <span className={styles.picture}>
      <label data-file="" className={styles.pictureLabel}>
        <input
          ref={fileRef}
          type="file"
          accept="image/*"
          capture="environment"
          className="hidden"
          disabled={!isSaved || take.isPending}
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file !== undefined) send({ file, key: newKey() });
            event.target.value = '';
          }}
        />
        {wordsFor({ isSaved, taken, isPending: take.isPending })}
      </label>
      {take.isError && waiting !== null && (
        <span role="alert" className={styles.trouble}>
          {asProblem(take.error).title}. The photograph is kept here:{' '}
          <button type="button" className={styles.again} onClick={() => send(waiting)}>
            send it again
          </button>
        </span>
      )}
    </span>
  );
}

function wordsFor({ isSaved, taken, isPending }: { isSaved: boolean; taken: number; isPending: boolean }): string {
  if (isPending) return 'Sending the photograph …';
  if (!isSaved) return 'Photograph: once the row is saved';
  return taken === 0 ? 'Photograph' : `Photograph: ${taken} taken`;
}
