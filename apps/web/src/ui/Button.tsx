import type { ReactNode } from 'react';
import { Button as AriaButton } from 'react-aria-components';
import styles from './Button.module.css';
import { classNames } from './class-names.js';
import { Go } from './Go.js';

/** `main` is the one act a panel is for; `plain` reads as a link; `grave` cannot be taken back lightly. */
export type ButtonLook = 'usual' | 'main' | 'plain' | 'grave';

export interface ButtonProps {
  readonly children: ReactNode;
  readonly look?: ButtonLook;
  readonly type?: 'button' | 'submit';
  readonly onPress?: () => void;
  /** Said in words inside the button ("Release: 5 lines open"), never by a grey tint alone. */
  readonly isDisabled?: boolean;
  /** True while its act is on the way: it stays in the tab order, and a second press does nothing. */
  readonly isPending?: boolean;
  readonly label?: string;
  readonly expanded?: boolean;
  readonly controls?: string;
  readonly autoFocus?: boolean;
  readonly excludeFromTabOrder?: boolean;
}

/** A button of 48 px or more. */
export function Button(props: ButtonProps) {
  return (
    <AriaButton
      className={buttonClass(props.look)}
      type={props.type ?? 'button'}
      onPress={props.onPress}
      isDisabled={props.isDisabled}
      isPending={props.isPending}
      aria-label={props.label}
      aria-expanded={props.expanded}
      aria-controls={props.controls}
      autoFocus={props.autoFocus}
      excludeFromTabOrder={props.excludeFromTabOrder}
    >
      {props.children}
    </AriaButton>
  );
}

export interface ButtonLinkProps {
  readonly href: string;
  readonly children: ReactNode;
  readonly look?: ButtonLook;
  /** A document that opens in a tab of its own, so that the screen and its scan field stay. */
  readonly opensDocument?: boolean;
}

/** A link that looks like a button, for acts that only go somewhere. */
export function ButtonLink({ href, children, look, opensDocument = false }: ButtonLinkProps) {
  if (opensDocument) {
    return (
      <a className={buttonClass(look)} href={href} target="_blank" rel="noopener">
        {children}
      </a>
    );
  }
  return (
    <Go className={buttonClass(look)} href={href}>
      {children}
    </Go>
  );
}

/** A row of buttons that wraps. */
export function Acts({ children }: { readonly children: ReactNode }) {
  return <div className={styles.acts}>{children}</div>;
}

function buttonClass(look: ButtonLook = 'usual'): string {
  return classNames(styles.button, look !== 'usual' && styles[look]);
}
