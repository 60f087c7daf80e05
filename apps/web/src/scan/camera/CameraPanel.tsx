import { useEffect, useRef, useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { useScanDesk } from '../scanning.js';
import styles from './CameraPanel.module.css';
import { CameraEye, faultWords } from './camera-eye.js';

export interface CameraPanelProps {
  readonly id: string;
  readonly onClose: () => void;
}

/** A label that is held before the camera is a scan like any other, on whatever screen stands below. */
export function CameraPanel({ id, onClose }: CameraPanelProps) {
  const desk = useScanDesk();
  const video = useRef<HTMLVideoElement>(null);
  const [eye, setEye] = useState<CameraEye | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [turn, setTurn] = useState(1);
  const [foreign, setForeign] = useState<string | null>(null);
  const [isLit, setLit] = useState(false);

  // each turn opens it anew
  useEffect(() => {
    if (video.current === null) return;
    let opened: CameraEye | null = null;
    let isClosed = false;
    CameraEye.open(video.current, {
      onCode: (parsed) => {
        setForeign(null);
        // eyes are on the thing and the other hand holds it
        navigator.vibrate?.(60);
        desk.scan(parsed);
      },
      onForeign: setForeign,
      onFault: setFault,
      onIdle: () => setFault('Switched off: no label came before it for three minutes.'),
    }).then(
      (made) => {
        opened = made;
        if (isClosed) made.stop();
        else setEye(made);
      },
      (thrown: unknown) => setFault(faultWords(thrown)),
    );
    return () => {
      isClosed = true;
      opened?.stop();
    };
  }, [desk, turn]);

  const light = () => {
    void eye?.light(!isLit).then(
      () => setLit(!isLit),
      () => undefined,
    );
  };
  const again = () => {
    setEye(null);
    setLit(false);
    setFault(null);
    setTurn(turn + 1);
  };
  return (
    <section id={id} className={styles.panel} aria-label="Camera">
      {fault === null && (
        <div className={styles.view}>
          <video ref={video} className={styles.video} playsInline muted aria-label="What the camera sees" />
          <span className={styles.aim} aria-hidden="true" />
        </div>
      )}
      <div className={styles.said}>
        <p role="status">{fault ?? wordsFor(eye !== null, foreign)}</p>
        <Acts>
          {fault === null && eye?.hasLight === true && <Button onPress={light}>{isLit ? 'Light off' : 'Light on'}</Button>}
          {fault !== null && <Button onPress={again}>Open it again</Button>}
          <Button onPress={onClose}>Close the camera</Button>
        </Acts>
      </div>
    </section>
  );
}

function wordsFor(isOpen: boolean, foreign: string | null): string {
  if (!isOpen) return 'The camera is starting …';
  if (foreign !== null) return `“${foreign.slice(0, 40)}” is no label of this workshop.`;
  return 'Hold a label in the frame. It is scanned once; take it away and back to scan it again.';
}
