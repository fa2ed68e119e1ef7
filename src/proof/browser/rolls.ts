/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import type { RollsAnswer } from '../rolls-answer.js';
import { type At, tell, tellRows, whyNoAnswer } from './page.js';

/** Balls that came to rest on the green of the page: tapped or typed, and what they tell of green speed, aim and survey. */

/** Balls told together. */
const MOST = 24;
const NAMESPACE = 'http://www.w3.org/2000/svg';

/** Ball and hole as they stand, places in the frame of the green. */
export interface Sent {
  readonly ball: At;
  readonly hole: At;
}

export interface Rolls {
  readonly add: (sent: Sent, rest: At | string) => void;
  readonly dropLast: () => void;
  /** Tells of the same balls by another speed of the ramp. */
  readonly askAgain: () => void;
}

/** The speed at which the ramp lets a ball go, as it is typed. */
const typedRelease = (): string =>
  document.querySelector<HTMLInputElement>('input[name="release"]')?.value.trim() ?? '';

const words = (at: At): string => at.map((v) => v.toFixed(3)).join(',');

const textOf = ({ ball, hole }: Sent, rest: At | string): string => {
  const by =
    document.querySelector<HTMLInputElement>('input[name="by"]:checked')?.value === 'p' ? 'p' : 'r';
  const sent = `${words(ball)},${words(hole)},${by}`;
  return typeof rest === 'string' ? `${sent}|${rest}` : `${sent},${words(rest)}`;
};

export const rollsOn = (svg: SVGSVGElement, onPaper: (at: At) => At): Rolls => {
  const layer = svg.querySelector<SVGGElement>('.lying')!;
  let balls: { readonly text: string; readonly from: At }[] = [];
  let asked = 0;
  const show = ({ rows, said, rests }: RollsAnswer): void => {
    tellRows('rolls', rows);
    tell('rolled', said);
    layer.replaceChildren(
      ...rests.flatMap((rest, k) => {
        const [x, y] = onPaper(rest);
        const [fx, fy] = onPaper(balls[k].from);
        const ball = document.createElementNS(NAMESPACE, 'circle');
        ball.setAttribute('cx', x.toFixed(2));
        ball.setAttribute('cy', y.toFixed(2));
        const line = document.createElementNS(NAMESPACE, 'path');
        line.setAttribute(
          'd',
          `M${fx.toFixed(2)} ${fy.toFixed(2)}L${x.toFixed(2)} ${y.toFixed(2)}`,
        );
        return [line, ball];
      }),
    );
    svg.dataset.balls = `${rests.length}`;
  };
  const ask = async (): Promise<void> => {
    const own = ++asked;
    const { day = '', speed = '' } = document.body.dataset;
    const query = new URLSearchParams({ green: svg.dataset.green ?? '', day, speed });
    const release = typedRelease();
    if (release !== '') query.set('release', release);
    for (const { text } of balls) query.append('roll', text);
    try {
      const response = await fetch(`/rolls?${query}`);
      if (!response.ok) throw new Error(`${response.status}`);
      const answer = (await response.json()) as RollsAnswer;
      if (own !== asked) return;
      if (answer.refused === null) show(answer);
      else {
        // A ball that tells nothing is not kept.
        if (answer.refused === 'ball') balls = balls.slice(0, -1);
        tell('rolled', answer.said);
      }
    } catch (error) {
      if (own === asked) balls = balls.slice(0, -1);
      tell('rolled', whyNoAnswer(error));
    }
  };
  return {
    add: (sent, rest) => {
      if (balls.length === MOST) {
        tell('rolled', `${MOST} balls are told together: take one away first.`);
        return;
      }
      balls = [...balls, { text: textOf(sent, rest), from: sent.ball }];
      void ask();
    },
    dropLast: () => {
      balls = balls.slice(0, -1);
      void ask();
    },
    askAgain: () => void ask(),
  };
};
