/**
 * A task done elsewhere: in a worker made of this page's own code, so that the page stays alive; where a browser gives none,
 * here, a slice at a time. Either way it says how far it is, and can be stopped.
 */
import { toTheEnd } from '../quantity/in-steps.js';
import { type Answer, doTask, type Task } from './task.js';

/** What a worker tells. */
type Told =
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'answer'; readonly answer: Answer }
  | { readonly kind: 'fault'; readonly message: string };

export interface Running {
  readonly stop: () => void;
}

interface Listener {
  readonly progress: (share: number) => void;
  readonly answer: (answer: Answer) => void;
  readonly fault: (message: string) => void;
}

/** Between two slices here the page lives, ms. */
const SLICE = 40;
/** A worker tells how far it is no oftener, ms. */
const SELDOM = 60;

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** In the worker: does each task it is sent. */
export function serve(): void {
  globalThis.onmessage = ({ data }: MessageEvent<Task>) => {
    const tell = (told: Told): void => globalThis.postMessage(told);
    try {
      let last = 0;
      const answer = toTheEnd(doTask(data), (share) => {
        const now = performance.now();
        if (now - last <= SELDOM) return;
        last = now;
        tell({ kind: 'progress', share });
      });
      tell({ kind: 'answer', answer });
    } catch (error) {
      tell({ kind: 'fault', message: wordsOf(error) });
    }
  };
}

/** Begins a task. */
export function begin(task: Task, listener: Listener): Running {
  const worker = workerOfThis();
  if (worker === 'none') return beginHere(task, listener);
  worker.onmessage = ({ data }: MessageEvent<Told>) => {
    if (data.kind === 'progress') listener.progress(data.share);
    else {
      worker.terminate();
      if (data.kind === 'answer') listener.answer(data.answer);
      else listener.fault(data.message);
    }
  };
  let here: Running | 'not yet' = 'not yet';
  // A browser may let one be made and then not run it.
  worker.onerror = (event) => {
    event.preventDefault();
    worker.terminate();
    here = beginHere(task, listener);
  };
  worker.postMessage(task);
  return {
    stop: () => {
      worker.terminate();
      if (here !== 'not yet') here.stop();
    },
  };
}

/** A worker of the code that this page carries as text. */
function workerOfThis(): Worker | 'none' {
  const code = document.getElementById('code')?.textContent;
  if (code === undefined || code === null || typeof Worker === 'undefined') return 'none';
  const url = URL.createObjectURL(new Blob([code], { type: 'text/javascript' }));
  try {
    return new Worker(url);
  } catch {
    return 'none';
  } finally {
    setTimeout(() => URL.revokeObjectURL(url), 10_000);
  }
}

function beginHere(task: Task, { progress, answer, fault }: Listener): Running {
  const work = doTask(task);
  let stopped = false;
  const slice = (): void => {
    if (stopped) return;
    const until = performance.now() + SLICE;
    try {
      for (let step = work.next(); ; step = work.next()) {
        if (step.done === true) {
          answer(step.value);
          return;
        }
        if (performance.now() > until) {
          progress(step.value);
          break;
        }
      }
    } catch (error) {
      fault(wordsOf(error));
      return;
    }
    setTimeout(slice, 0);
  };
  setTimeout(slice, 0);
  return {
    stop: () => {
      stopped = true;
    },
  };
}
