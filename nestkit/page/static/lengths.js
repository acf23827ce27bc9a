/** Millimetres of the server as lengths of the job's unit, for reading only: what is typed stays as typed. */

import { now } from "./draft.js";

const PER_INCH = 25.4;
const FINEST = 64;
const EXACT = 1e-6;

/** Return `14 1/2` for 368.3 in an inch job: a fraction where it is one, otherwise three decimals. */
export function lengthText(mm, unit = now(["unit"])) {
  if (unit !== "in") return decimal(mm, 2);
  const inches = mm / PER_INCH;
  const parts = Math.round(inches * FINEST);
  if (Math.abs(inches * FINEST - parts) > EXACT * FINEST) return decimal(inches, 3);
  let [over, under] = [parts % FINEST, FINEST];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  const whole = Math.floor(parts / FINEST);
  return [whole || !over ? whole : null, over ? `${over}/${under}` : null].filter((word) => word !== null).join(" ");
}

/** Return a number with so many decimals at most; in an inch job without the nought before the point. */
export function decimal(value, places, unit = now(["unit"])) {
  const text = String(Number(value.toFixed(places)));
  return unit === "in" ? text.replace(/^0\./, ".") : text;
}
