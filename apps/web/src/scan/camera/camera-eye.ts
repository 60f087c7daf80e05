import type { ParsedCode } from '@corewright/codes/label-code';
import { type Aim, aimAt, awayMs, nothingAimedAt } from './aim.js';
import type { FrameAsked, FrameRead } from './frame-worker.js';

export interface CameraEar {
  readonly onCode: (parsed: ParsedCode) => void;
  /** what a symbol says that is in the middle and is no label of the workshop's; null when it has gone */
  readonly onForeign: (text: string | null) => void;
  readonly onFault: (words: string) => void;
  /** nothing was scanned for so long that the camera was switched off */
  readonly onIdle: () => void;
}

/** Between two looks, so that a phone stays cool, in milliseconds. */
const restMs = 60;
const idleAfterMs = 3 * 60_000;
/** Wider pictures tell no more of a label that fills a third of them, and take longer to read. */
const widthMax = 1280;

/** Whether the browser gives its camera to this page at all: only over HTTPS, or on the server itself. */
export function hasCamera(): boolean {
  return typeof navigator.mediaDevices?.getUserMedia === 'function';
}

/** The camera of a phone as a scanner: looks at frame after frame until it is stopped. */
export class CameraEye {
  private readonly worker = new Worker(new URL('./frame-worker.ts', import.meta.url), { type: 'module' });
  private readonly canvas = document.createElement('canvas');
  private aim: Aim = nothingAimedAt;
  private lastScan = Date.now();
  private lastForeign = 0;
  private isStopped = false;
  private resting: ReturnType<typeof setTimeout> | undefined;

  private constructor(
    private readonly video: HTMLVideoElement,
    private readonly stream: MediaStream,
    private readonly ear: CameraEar,
  ) {
    this.worker.addEventListener('message', ({ data }: MessageEvent<FrameRead>) => this.hear(data));
    this.worker.addEventListener('error', () =>
      this.end(() => ear.onFault('The reader of labels does not start in this browser.')),
    );
    for (const track of stream.getTracks())
      track.addEventListener('ended', () => this.end(() => ear.onFault('The camera was taken away.')));
  }

  /** @throws DOMException as getUserMedia does: `faultWords` says it */
  static async open(video: HTMLVideoElement, ear: CameraEar): Promise<CameraEye> {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: { ideal: 'environment' }, width: { ideal: widthMax }, height: { ideal: 720 } },
    });
    const eye = new CameraEye(video, stream, ear);
    video.srcObject = stream;
    // it was closed before it began: what plays no longer is no fault
    await video.play().catch(() => undefined);
    eye.ask({ picture: null });
    return eye;
  }

  get hasLight(): boolean {
    // the light is a capability that TypeScript's own list does not have
    const capabilities = this.track?.getCapabilities?.() as { torch?: boolean } | undefined;
    return capabilities?.torch === true;
  }

  async light(on: boolean): Promise<void> {
    await this.track?.applyConstraints({ advanced: [{ torch: on } as MediaTrackConstraintSet] });
  }

  readonly stop = (): void => {
    this.isStopped = true;
    clearTimeout(this.resting);
    this.worker.terminate();
    for (const track of this.stream.getTracks()) track.stop();
    this.video.srcObject = null;
  };

  private get track(): MediaStreamTrack | undefined {
    return this.stream.getVideoTracks()[0];
  }

  private end(say: () => void): void {
    if (this.isStopped) return;
    this.stop();
    say();
  }

  private ask(asked: FrameAsked): void {
    this.worker.postMessage(asked, asked.picture === null ? [] : [asked.picture.data.buffer]);
  }

  private hear({ symbols, fault }: FrameRead): void {
    if (this.isStopped) return;
    if (fault !== null) {
      this.end(() => this.ear.onFault('The reader of labels does not work in this browser.'));
      return;
    }
    const now = Date.now();
    const { aim, scanned, foreign } = aimAt(this.aim, { width: this.canvas.width, height: this.canvas.height, symbols }, now);
    this.aim = aim;
    if (foreign !== null) this.lastForeign = now;
    if (foreign !== null || now - this.lastForeign >= awayMs) this.ear.onForeign(foreign);
    if (scanned !== null) {
      this.lastScan = now;
      this.ear.onCode(scanned);
    }
    if (now - this.lastScan > idleAfterMs) this.end(this.ear.onIdle);
    else this.resting = setTimeout(this.look, restMs);
  }

  private readonly look = (): void => {
    const { videoWidth, videoHeight } = this.video;
    const ground = this.canvas.getContext('2d', { willReadFrequently: true });
    if (document.hidden || videoWidth === 0 || ground === null) {
      this.resting = setTimeout(this.look, restMs * 4);
      return;
    }
    const scale = Math.min(1, widthMax / videoWidth);
    this.canvas.width = Math.round(videoWidth * scale);
    this.canvas.height = Math.round(videoHeight * scale);
    ground.drawImage(this.video, 0, 0, this.canvas.width, this.canvas.height);
    this.ask({ picture: ground.getImageData(0, 0, this.canvas.width, this.canvas.height) });
  };
}

/** What a person can do about a camera that does not come. */
export function faultWords(thrown: unknown): string {
  const name = thrown instanceof DOMException ? thrown.name : '';
  if (name === 'NotAllowedError')
    return 'The browser does not let this page use the camera. Allow it in the settings of the browser, then open it again.';
  if (name === 'NotFoundError' || name === 'OverconstrainedError') return 'This device has no camera that the browser knows of.';
  if (name === 'NotReadableError') return 'Another program holds the camera. Close that, then open it again.';
  return 'The camera does not start.';
}
