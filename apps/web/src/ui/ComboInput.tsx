import { type KeyboardEvent, type RefObject, useId, useState } from 'react';
import { type ComboOption, type ComboSearch, type ComboSource, useComboSearch } from './combo-options.js';
import styles from './Field.module.css';

export interface ComboInputProps {
  readonly text: string;
  readonly onText: (text: string) => void;
  readonly onChoose: (option: ComboOption) => void;
  readonly source: ComboSource;
  readonly id?: string;
  readonly className?: string;
  readonly label?: string;
  readonly describedBy?: string;
  readonly isInvalid?: boolean;
  readonly autoFocus?: boolean;
  readonly placeholder?: string;
  /** In a grid: which cell it is, on the input as `data-cell`. */
  readonly cell?: string;
  readonly inputRef?: RefObject<HTMLInputElement | null>;
  /** Sees each key that the list itself does not use. */
  readonly onKeyDown?: (event: KeyboardEvent<HTMLInputElement>) => void;
  readonly onFocus?: () => void;
}

/**
 * The bare input of a combo field, for cells of a grid too. Down opens the list, Up and Down move, Enter chooses,
 * Escape closes; focus never leaves the input. Tab chooses what is marked and moves on.
 */
export function ComboInput(props: ComboInputProps) {
  const listId = useId();
  const [isOpen, setOpen] = useState(false);
  const [marked, setMarked] = useState(-1);
  const search = useComboSearch(props.source, props.text, isOpen);
  const options = search.state === 'found' || search.state === 'looking' ? search.options : [];
  const current = options[marked];

  const close = () => {
    setOpen(false);
    setMarked(-1);
  };
  const choose = (option: ComboOption) => {
    props.onChoose(option);
    close();
  };
  const keyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    const step = stepOf(event, isOpen);
    if (step !== 0) {
      event.preventDefault();
      setOpen(true);
      setMarked(nextMark(marked, step, options.length));
      return;
    }
    if (event.key === 'Enter' && isOpen && current !== undefined) {
      event.preventDefault();
      choose(current);
      return;
    }
    if (event.key === 'Tab' && isOpen && current !== undefined) choose(current);
    if (event.key === 'Escape' && isOpen) {
      event.preventDefault();
      close();
      return;
    }
    props.onKeyDown?.(event);
  };

  return (
    <div className={styles.combo}>
      <input
        id={props.id}
        ref={props.inputRef}
        data-cell={props.cell}
        placeholder={props.placeholder}
        className={props.className}
        type="text"
        role="combobox"
        autoComplete="off"
        spellCheck={false}
        aria-label={props.label}
        aria-expanded={isOpen}
        aria-controls={listId}
        aria-autocomplete="list"
        aria-activedescendant={isOpen && current !== undefined ? `${listId}-${marked}` : undefined}
        aria-describedby={props.describedBy}
        aria-invalid={props.isInvalid === true ? true : undefined}
        // biome-ignore lint/a11y/noAutofocus: a form that a person has just opened puts them in its first field
        autoFocus={props.autoFocus}
        value={props.text}
        onChange={(event) => {
          props.onText(event.target.value);
          setOpen(true);
          setMarked(-1);
        }}
        onFocus={props.onFocus}
        onBlur={close}
        onKeyDown={keyDown}
      />
      {isOpen && <ComboList id={listId} search={search} options={options} marked={marked} onChoose={choose} />}
    </div>
  );
}

interface ComboListProps {
  readonly id: string;
  readonly search: ComboSearch;
  readonly options: readonly ComboOption[];
  readonly marked: number;
  readonly onChoose: (option: ComboOption) => void;
}

function ComboList({ id, search, options, marked, onChoose }: ComboListProps) {
  const words = wordsFor(search);
  return (
    <div className={styles.list} onPointerDown={(event) => event.preventDefault()}>
      <div id={id} role="listbox" aria-label="What it may be">
        {options.map((option, index) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the keys are those of the input, which keeps the focus
          // biome-ignore lint/a11y/useFocusableInteractive: an option of a combo box is pointed at, never focused
          <div
            key={option.id}
            id={`${id}-${index}`}
            role="option"
            className={styles.option}
            aria-selected={index === marked}
            onClick={() => onChoose(option)}
          >
            <span>{option.label}</span>
            {option.note !== undefined && <small>{option.note}</small>}
          </div>
        ))}
      </div>
      {words !== null && (
        <p className={styles.say} role="status">
          {words}
        </p>
      )}
    </div>
  );
}

function wordsFor(search: ComboSearch): string | null {
  if (search.state === 'failed') return 'The server does not answer. What you keyed stays.';
  if (search.state === 'looking' && search.options.length === 0) return 'Looking …';
  if (search.state === 'found' && search.options.length === 0) return 'Nothing by that name. What you keyed stays as it is.';
  if (search.state === 'found' && search.hasMore) return `The first ${search.options.length}; one more word finds fewer.`;
  return null;
}

function stepOf(event: KeyboardEvent, isOpen: boolean): -1 | 0 | 1 {
  // with Ctrl it is a key of the grid around it
  if (event.ctrlKey) return 0;
  if (event.key === 'ArrowDown') return 1;
  return event.key === 'ArrowUp' && isOpen ? -1 : 0;
}

/** Runs through the options and, past either end, through "none marked". */
function nextMark(marked: number, step: -1 | 1, count: number): number {
  const next = marked + step;
  if (next >= count) return -1;
  return next < -1 ? count - 1 : next;
}
