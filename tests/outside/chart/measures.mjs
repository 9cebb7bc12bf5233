// What a reader meets in a drawing, as numbers. A picture is `{ boxes: [x, y, width, height][], lines: [x, y][][], ends: [from, to][] }`.

/** Stretches of lines: begin, end, number of the line. */
function stretches(picture) {
  return picture.lines.flatMap((line, number) => line.slice(1).map((end, place) => ({ a: line[place], b: end, number })));
}

function meeting(one, other) {
  const [rx, ry] = [one.b[0] - one.a[0], one.b[1] - one.a[1]];
  const [sx, sy] = [other.b[0] - other.a[0], other.b[1] - other.a[1]];
  const turn = rx * sy - ry * sx;
  if (Math.abs(turn) < 1e-9) return undefined;
  const [qx, qy] = [other.a[0] - one.a[0], other.a[1] - one.a[1]];
  const t = (qx * sy - qy * sx) / turn;
  const u = (qx * ry - qy * rx) / turn;
  const inside = (part) => part > 1e-6 && part < 1 - 1e-6;
  return inside(t) && inside(u) ? [one.a[0] + t * rx, one.a[1] + t * ry] : undefined;
}

/** Crossings: of every pair of lines, and as places that are seen: lines that run as one cross another once. */
export function crossings(picture) {
  const all = stretches(picture).sort((one, other) => Math.min(one.a[1], one.b[1]) - Math.min(other.a[1], other.b[1]));
  let pairs = 0;
  const seen = new Set();
  for (let first = 0; first < all.length; first += 1) {
    const one = all[first];
    const bottom = Math.max(one.a[1], one.b[1]);
    const [left, right] = [Math.min(one.a[0], one.b[0]), Math.max(one.a[0], one.b[0])];
    for (let second = first + 1; second < all.length; second += 1) {
      const other = all[second];
      if (Math.min(other.a[1], other.b[1]) > bottom) break;
      if (one.number === other.number || Math.min(other.a[0], other.b[0]) > right || Math.max(other.a[0], other.b[0]) < left) continue;
      const place = meeting(one, other);
      if (!place || atSharedBox(picture, one.number, other.number, place)) continue;
      pairs += 1;
      seen.add(`${place[0].toFixed(1)} ${place[1].toFixed(1)}`);
    }
  }
  return { pairs, seen: seen.size };
}

/** Lines of one box may meet at its border. */
function atSharedBox(picture, one, other, [x, y]) {
  const shared = picture.ends[one].filter((end) => picture.ends[other].includes(end));
  return shared.some((end) => {
    const [left, top, width, height] = picture.boxes[end];
    return x >= left - 1 && x <= left + width + 1 && y >= top - 1 && y <= top + height + 1;
  });
}

export function length(picture) {
  return stretches(picture).reduce((sum, { a, b }) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);
}

/** Turns of more than five degrees. */
export function bends(picture) {
  let turns = 0;
  for (const line of picture.lines) {
    for (let place = 2; place < line.length; place += 1) {
      const [p, q, r] = line.slice(place - 2, place + 1);
      const [ax, ay, bx, by] = [q[0] - p[0], q[1] - p[1], r[0] - q[0], r[1] - q[1]];
      if (Math.hypot(ax, ay) < 1e-6 || Math.hypot(bx, by) < 1e-6) continue;
      if (Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) > (5 * Math.PI) / 180) turns += 1;
    }
  }
  return turns;
}

/** The area of what is drawn, without margins. */
export function area(picture) {
  const corners = picture.boxes.flatMap(([x, y, width, height]) => [[x, y], [x + width, y + height]]).concat(picture.lines.flat());
  const span = (values) => values.reduce((most, value) => Math.max(most, value), -Infinity) - values.reduce((least, value) => Math.min(least, value), Infinity);
  return span(corners.map(([x]) => x)) * span(corners.map(([, y]) => y));
}

/** Lines through boxes that are not theirs, and boxes on boxes. */
export function faults(picture) {
  const within = ([x, y, width, height], left, top, right, bottom) => right > x + 0.5 && left < x + width - 0.5 && bottom > y + 0.5 && top < y + height - 0.5;
  const found = [];
  for (const { a, b, number } of stretches(picture)) {
    picture.boxes.forEach((box, index) => {
      const meets = within(box, Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]));
      if (meets && !picture.ends[number].includes(index)) found.push(`line ${number} through box ${index}`);
    });
  }
  picture.boxes.forEach((box, index) => {
    picture.boxes.slice(index + 1).forEach((other, place) => {
      if (within(box, other[0], other[1], other[0] + other[2], other[1] + other[3])) found.push(`box ${index} on box ${index + 1 + place}`);
    });
  });
  return found;
}

export function measures(picture) {
  const { pairs, seen } = crossings(picture);
  return { pairs, seen, length: length(picture), bends: bends(picture), area: area(picture) };
}
