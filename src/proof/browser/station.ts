/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import type { StationAnswer } from '../station-answer.js';
import { type At, tell, tellRows, whyNoAnswer } from './page.js';

/** A practice station about the hole of the page, which follows it. */

const NAMESPACE = 'http://www.w3.org/2000/svg';

export interface Station {
  /** Told where the hole is whenever it has moved. */
  readonly follow: (hole: At) => void;
  readonly toggle: () => void;
}

const sign = (name: string, [x, y]: At): SVGCircleElement => {
  const circle = document.createElementNS(NAMESPACE, 'circle');
  circle.setAttribute('class', name);
  circle.setAttribute('cx', x.toFixed(2));
  circle.setAttribute('cy', y.toFixed(2));
  return circle;
};

/** One question at a time; when the hole moved meanwhile, its newest place is asked next. */
export const stationOn = (svg: SVGSVGElement, onPaper: (at: At) => At): Station => {
  const layer = svg.querySelector<SVGGElement>('.station')!;
  const shown = document.querySelector<HTMLInputElement>('input[name="station"]');
  const step = document.querySelector<HTMLSelectElement>('select[name="step"]');
  const link = document.querySelector<HTMLAnchorElement>('a[data-station]');
  let hole: At = [0, 0];
  let stale = false;
  let asking = false;
  const query = (): string => {
    const { day = '', speed = '' } = document.body.dataset;
    return `${new URLSearchParams({
      green: svg.dataset.green ?? '',
      day,
      speed,
      hole: hole.map((v) => v.toFixed(4)).join(','),
      step: step?.value ?? '1',
    })}`;
  };
  const show = ({ rows, said, tees, marker }: StationAnswer): void => {
    tellRows('station', rows);
    tell('stationed', said);
    layer.replaceChildren(
      ...tees.map((tee) => sign('tee', onPaper(tee))),
      ...(marker === null ? [] : [sign('marker', onPaper(marker))]),
    );
    if (link !== null) {
      link.href = `/station-pages?${query()}`;
      link.hidden = rows.length === 0;
    }
  };
  const ask = async (): Promise<void> => {
    stale = true;
    if (asking) return;
    asking = true;
    try {
      while (stale && shown?.checked === true) {
        stale = false;
        const response = await fetch(`/station?${query()}`);
        if (!response.ok) throw new Error(`${response.status}`);
        const answer = (await response.json()) as StationAnswer;
        if (!stale && shown.checked) show(answer);
      }
    } catch (error) {
      tell('stationed', whyNoAnswer(error));
    } finally {
      asking = false;
    }
  };
  const changed = (): void => {
    if (shown?.checked === true) void ask();
    else show({ rows: [], said: '', tees: [], marker: null });
  };
  shown?.addEventListener('change', changed);
  step?.addEventListener('change', changed);
  return {
    follow: (at) => {
      hole = at;
      if (shown?.checked === true) void ask();
    },
    toggle: () => {
      if (shown === null) return;
      shown.checked = !shown.checked;
      changed();
    },
  };
};
