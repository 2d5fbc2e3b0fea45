/* eslint-disable @typescript-eslint/no-non-null-assertion --
   the innermost loops of learning: tables hold two states of every kind and one entry of every move, as the chain
   numbers them */
/**
 * A two-state chain over segments. `kindOf[k]` says which row of the emission table segment k has, `moveOf[k]` which
 * entry of the transition tables the boundary between segments k and k + 1 has: few kinds occur, so each is worked out
 * once.
 */
export interface Chain {
  readonly kindOf: Int32Array;
  /** One shorter than `kindOf`. */
  readonly moveOf: Int32Array;
}

/**
 * Natural logarithms. `emission[2 * kind + state]`; −Infinity for a state that is ruled out, never for both. `stay` and
 * `change` finite.
 */
export interface ChainLogs {
  readonly emission: Float64Array;
  readonly stay: Float64Array;
  readonly change: Float64Array;
  /** From on, where that differs: `stay` and `change` are then from off. */
  readonly fromOn?: { readonly stay: Float64Array; readonly change: Float64Array };
  /** What belongs to one segment and not to its kind: added to the emission of segment k at `2 * k + state`. Finite. */
  readonly ownEmission?: Float64Array;
}

/** `on[k]`: probability that segment k is on. `changed[k]`: that the state changes at boundary k. */
export interface Smoothed {
  readonly on: Float64Array;
  readonly changed: Float64Array;
  /** That it changes from on to off there: given where the two directions have their own shares. */
  readonly left?: Float64Array;
  readonly logLikelihood: number;
}

/**
 * The forward-backward algorithm with scaling, both states equally likely at the start. Linear in the number of
 * segments. Source: Rabiner (1989), Proceedings of the IEEE 77: 257-286, sections III and V.A (text not seen).
 */
export function smooth(chain: Chain, logs: ChainLogs): Smoothed {
  const { kindOf, moveOf } = chain;
  const count = kindOf.length;
  const emission = logs.emission.slice();
  const kinds = emission.length / 2;
  const height = new Float64Array(kinds);
  for (let kind = 0; kind < kinds; kind += 1) {
    height[kind] = Math.max(emission[2 * kind]!, emission[2 * kind + 1]!);
    emission[2 * kind] = Math.exp(emission[2 * kind]! - height[kind]!);
    emission[2 * kind + 1] = Math.exp(emission[2 * kind + 1]! - height[kind]!);
  }
  const stay = logs.stay.map(Math.exp);
  const change = logs.change.map(Math.exp);
  const stayOn = logs.fromOn?.stay.map(Math.exp) ?? stay;
  const leave = logs.fromOn?.change.map(Math.exp) ?? change;
  const own = logs.ownEmission === undefined ? null : scaledPairs(logs.ownEmission);
  const on = new Float64Array(count);
  const scale = new Float64Array(count);
  let logLikelihood = 0;
  let off = 0.5;
  let now = 0.5;
  for (let k = 0; k < count; k += 1) {
    const kind = kindOf[k]!;
    if (k > 0) {
      const move = moveOf[k - 1]!;
      const next = off * change[move]! + now * stayOn[move]!;
      off = off * stay[move]! + now * leave[move]!;
      now = next;
    }
    off *= emission[2 * kind]!;
    now *= emission[2 * kind + 1]!;
    if (own !== null) {
      off *= own.pairs[2 * k]!;
      now *= own.pairs[2 * k + 1]!;
      logLikelihood += own.heights[k]!;
    }
    const sum = off + now;
    off /= sum;
    now /= sum;
    on[k] = now;
    scale[k] = sum;
    logLikelihood += Math.log(sum) + height[kind]!;
  }
  const changed = new Float64Array(Math.max(0, count - 1));
  const left = logs.fromOn === undefined ? undefined : new Float64Array(changed.length);
  let afterOff = 1;
  let afterOn = 1;
  for (let k = count - 2; k >= 0; k -= 1) {
    const kind = kindOf[k + 1]!;
    const move = moveOf[k]!;
    const intoOff = (afterOff * emission[2 * kind]! * (own?.pairs[2 * k + 2] ?? 1)) / scale[k + 1]!;
    const intoOn = (afterOn * emission[2 * kind + 1]! * (own?.pairs[2 * k + 3] ?? 1)) / scale[k + 1]!;
    const before = on[k]!;
    if (left === undefined) changed[k] = change[move]! * ((1 - before) * intoOn + before * intoOff);
    else {
      left[k] = leave[move]! * before * intoOff;
      changed[k] = change[move]! * (1 - before) * intoOn + left[k]!;
    }
    afterOff = stay[move]! * intoOff + change[move]! * intoOn;
    afterOn = stayOn[move]! * intoOn + leave[move]! * intoOff;
    // Normalised anew, so that rounding never makes a probability larger than 1.
    on[k] = (before * afterOn) / (before * afterOn + (1 - before) * afterOff);
  }
  return { on, changed, ...(left === undefined ? {} : { left }), logLikelihood };
}

/** Each pair's exponentials over the larger of the two, and the logarithm of that. */
function scaledPairs(logs: Float64Array): { readonly pairs: Float64Array; readonly heights: Float64Array } {
  const heights = Float64Array.from({ length: logs.length / 2 }, (_, k) => Math.max(logs[2 * k]!, logs[2 * k + 1]!));
  return { pairs: logs.map((log, i) => Math.exp(log - heights[i >>> 1]!)), heights };
}

/**
 * The single likeliest sequence of states (0 or 1 a segment) and its log-probability, together with what is seen; of
 * equally likely ones the one that is off. Source: Viterbi (1967), in the form of Rabiner (1989) (texts not seen).
 */
export function bestPath(chain: Chain, logs: ChainLogs): { path: Uint8Array; logProbability: number } {
  const { kindOf, moveOf } = chain;
  const count = kindOf.length;
  // cameFrom[2 * k + state]: the likeliest state of segment k − 1 on the way to `state` at k.
  const cameFrom = new Uint8Array(2 * count);
  const { ownEmission: own, fromOn = logs } = logs;
  let off = Math.log(0.5) + logs.emission[2 * kindOf[0]!]! + (own?.[0] ?? 0);
  let on = Math.log(0.5) + logs.emission[2 * kindOf[0]! + 1]! + (own?.[1] ?? 0);
  for (let k = 1; k < count; k += 1) {
    const move = moveOf[k - 1]!;
    const kind = kindOf[k]!;
    const [stay, change] = [logs.stay[move]!, logs.change[move]!];
    const [stayOn, leave] = [fromOn.stay[move]!, fromOn.change[move]!];
    const offFromOn = on + leave > off + stay;
    const onFromOn = on + stayOn > off + change;
    const nextOff = (offFromOn ? on + leave : off + stay) + logs.emission[2 * kind]! + (own?.[2 * k] ?? 0);
    on = (onFromOn ? on + stayOn : off + change) + logs.emission[2 * kind + 1]! + (own?.[2 * k + 1] ?? 0);
    off = nextOff;
    cameFrom[2 * k] = offFromOn ? 1 : 0;
    cameFrom[2 * k + 1] = onFromOn ? 1 : 0;
  }
  const path = new Uint8Array(count);
  let state = on > off ? 1 : 0;
  for (let k = count - 1; k >= 0; k -= 1) {
    path[k] = state;
    state = cameFrom[2 * k + state]!;
  }
  return { path, logProbability: Math.max(on, off) };
}
