import { useScanning } from '../scan/scanning.js';
import { Button } from '../ui/Button.js';
import { Kbd } from '../ui/Kbd.js';
import styles from './OtherwiseMeant.module.css';

/** A place was scanned after another, which makes it the next place. Whoever had it in the hand as a thing says so here. */
export function OtherwiseMeant() {
  const { offer, desk } = useScanning();
  if (offer === null) return null;
  return (
    <fieldset className={styles.meant}>
      <legend className="small">Was {offer.scanned.name} scanned as a thing? Nothing has moved; say which, or scan on.</legend>
      {offer.choices.map((choice, index) => (
        <Button key={choice.words} onPress={() => void desk.meant(index + 1)}>
          <Kbd>{index + 1}</Kbd> {choice.words}
        </Button>
      ))}
    </fieldset>
  );
}
