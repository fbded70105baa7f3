/* Plays the dry run on the sheet. It only draws: places and stock come from the checker, in data. */
(() => {
  const holder = document.getElementById('dry-run-data');
  const player = document.querySelector('.player');
  if (!holder || !player) return;
  const data = JSON.parse(holder.textContent);
  const { steps, indexes, kinds, pins, slope } = data;
  if (steps.length === 0) return;
  player.hidden = false;
  const find = (id) => document.getElementById(id);
  const scrubber = find('scrubber');
  const playButton = find('play');
  const now = find('now');
  const listing = find('listing');
  const text = listing.querySelector('pre');
  const mark = find('mark');
  const LINE = 22;
  const cos = Math.cos(slope);
  const sin = Math.sin(slope);
  const tan = Math.tan(slope);

  // Stock at every index after every step: the step that last changed it.
  const changes = indexes.map(() => []);
  steps.forEach((step, i) => {
    if (step.length > 6) changes[step[5]].push(i);
  });
  const floorsAt = (index, at) => {
    const list = changes[index];
    let low = 0;
    let high = list.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (list[middle] <= at) low = middle + 1;
      else high = middle;
    }
    if (low === 0) return [];
    const step = steps[list[low - 1]];
    const floors = [];
    for (let i = 6; i < step.length; i += 2) floors.push([step[i] / 1000, step[i + 1] / 1000]);
    return floors;
  };
  const lowest = (floors) => (floors.length === 0 ? undefined : floors[floors.length - 1][1]);
  const distance = (index, at) => {
    const w = lowest(floorsAt(index, at));
    return w === undefined ? undefined : w / cos;
  };
  const show = (length) => (length * data.perMm).toFixed(data.decimals);

  const SVG = 'http://www.w3.org/2000/svg';
  const add = (svg, name, attributes) => {
    const element = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    svg.append(element);
    return element;
  };
  const list = (points) => points.map(([x, y]) => `${x.toFixed(3)},${y.toFixed(3)}`).join(' ');

  // Paper from the wheel frame; with a tilted head the punch lies level.
  const paper = ([u, w]) => (data.level ? [u * cos - w * sin, -(u * sin + w * cos)] : [u, -w]);
  const part = (x, z) => paper([x * cos + z * sin, z * cos - x * sin]);

  const side = find('side-view');
  const shank = data.blank.stickOut + 8;
  const left = -shank - 2;
  const right = Math.max(16, data.blank.stickOut * 0.7);
  const half = Math.max(data.nose, data.blank.radius) + 3;
  side.setAttribute('viewBox', `${left} ${-half - 6} ${right - left} ${2 * half + 9}`);
  const noseTop = add(side, 'polygon', { class: 'solid' });
  const noseBottom = add(side, 'polygon', { class: 'solid' });
  const punch = add(side, 'polygon', { class: 'metal' });
  add(side, 'polyline', { class: 'axis', points: list([part(-shank, 0), part(right, 0)]) });
  const wheel = add(side, 'polyline', { class: 'bold' });

  const profile = (index, at) => {
    const { support, under, at: angle } = indexes[index];
    const floors = floorsAt(index, at);
    const top = (u) => {
      let w = support / cos - u * tan;
      for (const [reach, floor] of floors) if (reach <= u) w = Math.min(w, floor);
      return w;
    };
    const from = -shank * cos + support * sin;
    const breaks = [from, support * sin];
    for (const [reach, floor] of floors)
      breaks.push(reach - 1e-6, reach + 1e-6, (support / cos - floor) / tan);
    const tip = support * sin;
    const points = [];
    for (const u of breaks.filter((each) => each >= from && each <= tip).sort((a, b) => a - b)) {
      const w = top(u);
      // The front face leans: w = u / tan t bounds the metal toward the tip.
      if (u <= w * tan + 1e-9) points.push([u, w]);
    }
    const last = lowest(floors);
    const front = last === undefined ? support * cos : Math.min(last, support * cos);
    points.push([front * tan, front]);
    const opposite = indexes.findIndex((each) => Math.abs(Math.cos(each.at - angle) + 1) < 1e-6);
    const ground = opposite < 0 ? undefined : distance(opposite, at);
    const upper = points.map(paper);
    if (ground === undefined || ground >= under) return [...upper, part(0, -under), part(-shank, -under)];
    const reach = floorsAt(opposite, at).reduce((least, [each]) => Math.min(least, each), 0);
    const depth = ground * cos * sin - reach * cos;
    return [
      ...upper,
      part(0, -ground),
      part(-depth, -(ground - depth * tan)),
      part(-depth, -under),
      part(-shank, -under),
    ];
  };

  const end = find('end-view');
  const room = data.blank.radius * 1.5;
  end.setAttribute('viewBox', `${-room} ${-room} ${2 * room} ${2 * room}`);
  const whole = add(end, 'polygon', { class: 'dashed' });
  const section = add(end, 'polygon', { class: 'metal' });
  const rim = add(end, 'line', { class: 'bold' });
  const SIDES = 180;
  const outline =
    data.blank.corners.length > 0
      ? data.blank.corners
      : Array.from({ length: SIDES }, (_, i) => {
          const a = (2 * Math.PI * i) / SIDES;
          return [-Math.sin(a) * data.blank.radius, Math.cos(a) * data.blank.radius];
        });
  /** Keeps of a polygon what lies within `reach` of the axis in direction `angle`. */
  const clip = (points, angle, reach) => {
    const out = (p) => -Math.sin(angle) * p[0] + Math.cos(angle) * p[1] - reach;
    return points.flatMap((p, i) => {
      const q = points[(i + 1) % points.length];
      const [a, b] = [out(p), out(q)];
      const kept = a <= 0 ? [p] : [];
      if (a > 0 !== b > 0) {
        const s = a / (a - b);
        kept.push([p[0] + s * (q[0] - p[0]), p[1] + s * (q[1] - p[1])]);
      }
      return kept;
    });
  };
  /** Turned so that what is at `angle` is up; seen from the tip y runs to the right. */
  const turned =
    (angle) =>
    ([y, z]) => {
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      return [y * c + z * s, -(z * c - y * s)];
    };

  const rows = indexes
    .map((index, i) => ({ ...index, i }))
    .filter((index) => changes[index.i].length > 0)
    .sort((a, b) => (a.flat || 1000) - (b.flat || 1000))
    .map((index) => {
      const row = find('numbers').tBodies[0].insertRow();
      const name = document.createElement('th');
      name.scope = 'row';
      name.textContent = index.flat > 0 ? index.flat : 'extra';
      row.append(name);
      row.insertCell().textContent = index.deg;
      const cell = row.insertCell();
      row.insertCell().textContent = index.flat > 0 ? show(data.ordered[index.flat - 1]) : '-';
      return { index: index.i, cell };
    });

  // A wheel that has not been told where to stand is drawn nowhere.
  const wheelPoints = (u, w) => {
    const { radius, rim: wall, height: tall } = data.wheel;
    return [
      [u + radius, w + tall],
      [u - radius, w + tall],
      [u - radius, w],
      [u - radius + wall, w],
      [u - radius + wall, w + tall * 0.7],
      [u + radius - wall, w + tall * 0.7],
      [u + radius - wall, w],
      [u + radius, w],
      [u + radius, w + tall],
    ].map(paper);
  };

  // Findings of one block share a pin.
  const pinAt = new Map();
  for (const pin of pins) {
    if (!pinAt.has(pin.step)) pinAt.set(pin.step, []);
    pinAt.get(pin.step).push(pin);
  }
  for (const [step, found] of [...pinAt].sort(([a], [b]) => a - b)) {
    const bad = found.some((pin) => pin.severity === 'error');
    const button = document.createElement('button');
    button.type = 'button';
    button.className = bad ? 'error' : 'warning';
    button.textContent = `${bad ? '!' : '?'}${found.length > 1 ? found.length : ''}`;
    button.style.left = `${(100 * step) / Math.max(1, steps.length - 1)}%`;
    const line = found[0].line === 0 ? 'The whole program' : `Line ${found[0].line}`;
    const said = found.map((pin) => pin.sentence).join('; ');
    button.setAttribute('aria-label', `${line}: ${said}`);
    button.title = said;
    button.addEventListener('click', () => {
      pause();
      go(step);
    });
    find('pins').append(button);
  }

  let at = 0;
  let shown = -1;
  const words = (step) => {
    const [program, line, kind, u, w, index] = step;
    const { name, text: source } = data.programs[program];
    const block = source.split('\n')[line - 1].trim();
    const { flat, deg } = indexes[index];
    const place =
      u === null || w === null
        ? 'place not said yet'
        : `wheel centre ${show(u / 1000)}, rim ${show(w / 1000)} ${data.unit}`;
    const up = flat > 0 ? `flat ${flat} up` : `${deg} deg up`;
    const running = kind >= kinds.length ? 'wheel running' : 'wheel off';
    const count = `Block ${at + 1} of ${steps.length}`;
    const found = (pinAt.get(at) || []).map(
      (pin) => `${pin.severity === 'error' ? 'ERROR' : 'Warning'}: ${pin.sentence}`,
    );
    return [
      `${count}, ${name} line ${line}: ${block}`,
      `${kinds[kind % kinds.length]}; ${up}; ${running}; ${place}`,
      ...found,
    ].join('\n');
  };

  const draw = () => {
    const step = steps[at];
    const [program, line, , u, w, index] = step;
    const bad = (pinAt.get(at) || []).some((pin) => pin.severity === 'error');
    const { support, under, at: angle } = indexes[index];
    noseTop.setAttribute(
      'points',
      list([
        part(-data.blank.stickOut, support),
        part(-data.blank.stickOut, data.nose),
        part(-shank, data.nose),
        part(-shank, support),
      ]),
    );
    noseBottom.setAttribute(
      'points',
      list([
        part(-data.blank.stickOut, -under),
        part(-data.blank.stickOut, -data.nose),
        part(-shank, -data.nose),
        part(-shank, -under),
      ]),
    );
    punch.setAttribute('points', list(profile(index, at)));
    const known = u !== null && w !== null;
    wheel.setAttribute('class', bad ? 'offence' : 'bold');
    wheel.setAttribute('points', known ? list(wheelPoints(u / 1000, w / 1000)) : '');
    const turn = turned(angle);
    whole.setAttribute('points', list(outline.map(turn)));
    let cut = outline;
    for (const row of rows) {
      const reach = distance(row.index, at);
      row.cell.textContent = reach === undefined ? 'not yet' : show(reach);
      if (reach !== undefined) cut = clip(cut, indexes[row.index].at, reach);
    }
    section.setAttribute('points', list(cut.map(turn)));
    const overWork = known && u / 1000 - data.wheel.radius < support * sin;
    const level = known ? -(w / 1000) / cos : -room;
    rim.setAttribute('class', bad ? 'offence' : 'bold');
    rim.setAttribute('visibility', overWork && Math.abs(level) < room ? 'visible' : 'hidden');
    for (const [key, value] of Object.entries({ x1: -room, x2: room, y1: level, y2: level }))
      rim.setAttribute(key, value);
    if (program !== shown) {
      shown = program;
      text.textContent = data.programs[program].text;
    }
    mark.style.top = `${(line - 1) * LINE}px`;
    listing.scrollTop = (line - 1) * LINE - listing.clientHeight / 2;
    scrubber.value = at;
    const said = words(step);
    scrubber.setAttribute('aria-valuetext', said.split('\n')[0]);
    now.textContent = said;
  };

  const go = (to) => {
    at = Math.max(0, Math.min(steps.length - 1, to));
    draw();
  };

  const calm = window.matchMedia('(prefers-reduced-motion: reduce)');
  let timer = 0;
  let started = 0;
  let from = 0;
  const tick = (time) => {
    // Less motion wanted: two blocks a second at most, whatever the pace.
    const pace = calm.matches ? Math.min(2, Number(find('pace').value)) : Number(find('pace').value);
    if (started === 0) started = time;
    const to = from + Math.floor(((time - started) * pace) / 1000);
    if (to !== at) go(to);
    if (at >= steps.length - 1) pause();
    else timer = requestAnimationFrame(tick);
  };
  const pause = () => {
    cancelAnimationFrame(timer);
    timer = 0;
    playButton.textContent = 'Play';
    now.setAttribute('aria-live', 'polite');
  };
  const play = () => {
    if (at >= steps.length - 1) go(0);
    from = at;
    started = 0;
    playButton.textContent = 'Pause';
    // While it runs nobody wants every block read out.
    now.setAttribute('aria-live', 'off');
    timer = requestAnimationFrame(tick);
  };
  const toggle = () => (timer === 0 ? play() : pause());
  const jump = (to) => {
    pause();
    go(to);
  };

  playButton.addEventListener('click', toggle);
  find('back').addEventListener('click', () => jump(at - 1));
  find('forward').addEventListener('click', () => jump(at + 1));
  find('to-start').addEventListener('click', () => jump(0));
  find('to-end').addEventListener('click', () => jump(steps.length - 1));
  find('pace').addEventListener('change', () => {
    from = at;
    started = 0;
  });
  scrubber.addEventListener('input', () => jump(Number(scrubber.value)));
  const keys = {
    ArrowLeft: () => jump(at - 1),
    ArrowRight: () => jump(at + 1),
    Home: () => jump(0),
    End: () => jump(steps.length - 1),
    ' ': toggle,
  };
  find('dry-run').addEventListener('keydown', (event) => {
    // Buttons, the list and the listing keep their own keys.
    const own = event.target.closest('button, select, #listing');
    const key = keys[event.key];
    if (!key || own || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    key();
  });
  const firstError = pins.find((pin) => pin.severity === 'error');
  go(firstError ? firstError.step : 0);
})();
