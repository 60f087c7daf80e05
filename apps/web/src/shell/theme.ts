/** Light or dark by the system's wish, or by a person's own for this browser. */
export type Theme = 'system' | 'light' | 'dark';
const shelf = 'corewright.theme';

export function chosenTheme(): Theme {
  try {
    const kept = localStorage.getItem(shelf);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

export function showTheme(theme: Theme): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}

export function chooseTheme(theme: Theme): void {
  showTheme(theme);
  try {
    if (theme === 'system') localStorage.removeItem(shelf);
    else localStorage.setItem(shelf, theme);
  } catch {
    // it then lasts as long as the page
  }
}
