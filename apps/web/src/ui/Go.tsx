import { useRouter } from '@tanstack/react-router';
import type { AnchorHTMLAttributes, MouseEvent } from 'react';

export interface GoProps extends Omit<AnchorHTMLAttributes<HTMLAnchorElement>, 'href'> {
  /** Where to: a path of this app, such as `/jobs/…`. Paths under `/api` are opened by the browser itself. */
  readonly href: string;
}

function isPlainClick(event: MouseEvent): boolean {
  return event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey && !event.altKey;
}

/** A link. Within the app it moves without loading the page again; everything else about it is a plain anchor. */
export function Go({ href, onClick, target, ...rest }: GoProps) {
  const router = useRouter();
  const isOurs = href.startsWith('/') && !href.startsWith('/api/') && target === undefined;
  return (
    <a
      {...rest}
      href={href}
      target={target}
      onClick={(event) => {
        onClick?.(event);
        if (event.defaultPrevented || !isOurs || !isPlainClick(event)) return;
        event.preventDefault();
        router.history.push(href);
      }}
    />
  );
}
