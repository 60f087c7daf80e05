import { useRouter } from '@tanstack/react-router';
import { Button, ButtonLink } from '../ui/Button.js';
import { Empty } from '../ui/Empty.js';
import { Failure } from '../ui/Problem.js';

/** A screen that could not be shown, with the ways out. What was keyed elsewhere is kept. */
export function ScreenFault({ error, reset }: { readonly error: unknown; readonly reset: () => void }) {
  const router = useRouter();
  const again = () => {
    reset();
    void router.invalidate();
  };
  return (
    <Failure
      word="Not shown"
      error={error}
      choices={
        <>
          <Button look="main" onPress={again}>
            Try again
          </Button>
          <ButtonLink href="/">To Today</ButtonLink>
        </>
      }
    />
  );
}

export function NoSuchPage() {
  return (
    <Empty title="There is no such page" choices={<ButtonLink href="/">To Today</ButtonLink>}>
      The address may be old, or keyed wrongly. Scan what you are looking for, or search in Stores.
    </Empty>
  );
}
