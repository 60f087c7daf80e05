import { Acts, Button } from './Button.js';
import { Failure } from './Problem.js';

export interface FormFootProps {
  /** on the button that does it */
  readonly act: string;
  readonly isGrave?: boolean;
  /** what is said first when it was refused */
  readonly failed: string;
  readonly sending: { readonly isPending: boolean; readonly error: Error | null };
  readonly onClose: () => void;
}

/** The foot of a form: what became of it where it was refused, the button that sends it, and the way out. */
export function FormFoot({ act, isGrave = false, failed, sending, onClose }: FormFootProps) {
  return (
    <>
      {sending.error !== null && <Failure error={sending.error} word={failed} kept="What you keyed is kept." />}
      <Acts>
        <Button look={isGrave ? 'grave' : 'main'} type="submit" isPending={sending.isPending}>
          {act}
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </>
  );
}
