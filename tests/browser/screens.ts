import { benchScreens } from './bench-screens.js';
import { crossReferenceScreens } from './cross-reference-screens.js';
import { examplesFor } from './examples-for-screens.js';
import { jobsScreens } from './jobs-screens.js';
import type { Scene } from './scene.js';
import type { Screen } from './screen.js';
import { storesScreens } from './stores-screens.js';
import { storesWorkScreens } from './stores-work-screens.js';

/** Every screen of the web app, as the example workshop fills it. */
export async function everyScreen(scene: Scene): Promise<Screen[]> {
  const examples = await examplesFor(scene);
  return [
    ...benchScreens(examples),
    ...storesScreens(examples),
    ...storesWorkScreens(examples),
    ...jobsScreens(examples),
    ...crossReferenceScreens(),
  ];
}
