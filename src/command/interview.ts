/**
 * Asks a person one thing after the other. Every answer is checked when it is given; a wrong one is told what would do and
 * its question comes again, the others are kept. A choice may be its number in the list or its name, large or small.
 */
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import type { Dimension } from '../quantity/dimension.js';
import { Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';

export type Answers = Readonly<Record<string, string>>;

export interface Question {
  readonly key: string;
  readonly ask: string;
  /** Taken for an empty answer; left out where only the person can know. */
  readonly usual?: string | ((answers: Answers) => string | undefined);
  readonly choices?: (answers: Answers) => readonly string[];
  /** Names with what they are, shown to choose from; other answers are for `check`. */
  readonly list?: () => readonly (readonly [name: string, what: string])[];
  /** What is wrong with an answer and what would do; `good` if nothing is. */
  readonly check?: (answer: string, answers: Answers) => string;
  /** What is worth saying of a good answer. */
  readonly good?: (answer: string, answers: Answers) => string;
  /** Whether it is asked at all. */
  readonly when?: (answers: Answers) => boolean;
}

/** Whether an answer reads as a quantity; a bare number is in the units the answers so far lead to. */
export const quantityCheck =
  (dimension: Dimension, bare: (answers: Answers) => string, least: 'more than 0' | 'any' = 'more than 0') =>
  (answer: string, answers: Answers): string => {
    try {
      const value = readQuantity(answer, dimension, bare(answers));
      return least === 'any' || value > 0 ? 'good' : `${answer}: must be more than 0`;
    } catch (error) {
      if (error instanceof QuantityError) return error.message;
      throw error;
    }
  };

/** Asked so often for one answer; somebody who has gone away gives none. */
const PATIENCE = 10;

const usualOf = ({ usual }: Question, answers: Answers): string | undefined =>
  typeof usual === 'function' ? usual(answers) : usual;

/** What an answer stands for; an object says what is wrong with it. */
function meantBy(question: Question, typed: string, answers: Answers): string | { readonly wrong: string } {
  const { choices, check, list: named } = question;
  const said = typed.trim() === '' ? usualOf(question, answers) : typed.trim();
  if (said === undefined) return { wrong: 'needed' };
  const list = choices?.(answers) ?? named?.().map(([name]) => name);
  const found =
    list?.find((each) => each.toLowerCase() === said.toLowerCase()) ??
    (/^\d+$/.test(said) ? list?.[Number(said) - 1] : undefined);
  if (found !== undefined) {
    const judged = choices === undefined ? 'good' : (check?.(found, answers) ?? 'good');
    return judged === 'good' ? found : { wrong: judged };
  }
  if (choices !== undefined) return { wrong: `"${said}" is not one of ${choices(answers).join(', ')}` };
  const judged = check?.(said, answers) ?? 'good';
  return judged === 'good' ? said : { wrong: judged };
}

/** One of `questions` to a line, or numbered below it where they are many or long. */
function questionText(
  { ask, choices, list: named }: Question,
  usual: string | undefined,
  answers: Answers,
): string {
  const rows = named?.() ?? [];
  const widest = Math.max(0, ...rows.map(([name]) => name.length));
  const list = choices?.(answers) ?? rows.map(([name, what]) => `${name.padEnd(widest)}  ${what}`);
  const otherwise = usual === undefined ? '' : ` [${usual}]`;
  const inLine = ` (${list.join(', ')})`;
  if (list.length === 0) return `${ask}${otherwise}: `;
  if (rows.length === 0 && ask.length + inLine.length < 70) return `${ask}${inLine}${otherwise}: `;
  return `${ask}:\n${list.map((each, i) => `  ${`${i + 1}`.padStart(2)}  ${each}\n`).join('')}number or name${otherwise}: `;
}

/**
 * @param given answers that are there already, checked like the rest.
 * @throws Leave where an answer cannot be had, or one that was given is wrong.
 */
export async function interview(
  questions: readonly Question[],
  given: Answers,
  ask: Io['ask'],
): Promise<Answers> {
  const answers: Record<string, string> = {};
  let remark = '';
  for (const question of questions) {
    const { key, when, good } = question;
    // What was given for a later question is known to the earlier ones.
    const known: Answers = { ...given, ...answers };
    if (when?.(known) === false) continue;
    const usual = usualOf(question, known);
    const said = given[key];
    if (said !== undefined || ask === 'no terminal') {
      const meant = meantBy(question, said ?? '', known);
      if (typeof meant === 'object')
        throw new Leave(
          UNUSABLE,
          said === undefined
            ? `say --${key}: ${question.ask}; nobody else can know it`
            : `--${key}: ${meant.wrong}`,
        );
      answers[key] = meant;
      continue;
    }
    let typed = await ask(`${remark}${questionText(question, usual, known)}`);
    let meant = meantBy(question, typed, known);
    for (let asked = 1; typeof meant === 'object' && asked < PATIENCE; asked += 1) {
      typed = await ask(`  ${meant.wrong}\n${question.ask}${usual === undefined ? '' : ` [${usual}]`}: `);
      meant = meantBy(question, typed, known);
    }
    if (typeof meant === 'object') throw new Leave(UNUSABLE, `no answer: ${question.ask}`);
    answers[key] = meant;
    remark = good === undefined ? '' : `  ${good(meant, { ...known, [key]: meant })}\n`;
  }
  return answers;
}
