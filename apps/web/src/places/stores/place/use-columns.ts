import { type RefObject, useLayoutEffect, useRef, useState } from 'react';

/**
 * How many columns of at least this width, in CSS pixels, stand side by side in an element; it changes as the element does.
 * @returns the element's reference and the count
 */
export function useColumns<Element extends HTMLElement>(widthMin: number): [RefObject<Element | null>, number] {
  const reference = useRef<Element>(null);
  const [columns, setColumns] = useState(1);
  useLayoutEffect(() => {
    const element = reference.current;
    if (element === null) return;
    const measure = () => setColumns(Math.max(1, Math.floor(element.clientWidth / widthMin)));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [widthMin]);
  return [reference, columns];
}
