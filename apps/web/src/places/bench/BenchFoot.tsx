import { useEffect, useState } from 'react';
import { idleMilliseconds, modeRules } from '../../scan/modes.js';
import { useScanning } from '../../scan/scanning.js';
import { NetworkWords } from '../../shell/ScanStrip.js';
import { Button, ButtonLink } from '../../ui/Button.js';
import { Kbd } from '../../ui/Kbd.js';
import { sayInstant } from '../../ui/say-when.js';
import styles from './BenchFoot.module.css';

/** The modes with their keys, the network, and the way back from the last act. */
export function BenchFoot({ onWall }: { readonly onWall: boolean }) {
  const { modes, desk } = useScanning();
  return (
    <footer className={styles.foot}>
      <p className={styles.modes}>
        <span>Modes, by command card or key:</span>
        {modeRules.map((rule) => (
          <span key={rule.mode} className={styles.mode} aria-current={rule.mode === modes.mode ? 'true' : undefined}>
            {rule.mode} <Kbd>{rule.key}</Kbd>
          </span>
        ))}
        {modes.mode !== 'look' && <BackAt at={modes.touchedAt + idleMilliseconds} />}
      </p>
      <NetworkWords />
      <div className={styles.acts}>
        {onWall ? (
          <ButtonLink look="plain" href="/bench">
            Leave the wall screen
          </ButtonLink>
        ) : (
          <ButtonLink look="plain" href="/bench?wall=yes">
            Wall screen
          </ButtonLink>
        )}
        <Button onPress={() => void desk.takeBackLast()}>Take back the last act</Button>
      </div>
    </footer>
  );
}

function BackAt({ at }: { readonly at: number }) {
  const [now, setNow] = useState(() => new Date());
  useEffect(() => {
    const ticking = setInterval(() => setNow(new Date()), 30_000);
    return () => clearInterval(ticking);
  }, []);
  return <span className="quiet">back to look at {sayInstant(new Date(at).toISOString(), now)} if nothing is scanned</span>;
}
