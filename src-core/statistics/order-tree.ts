/** A node of a weight-balanced search tree (Adams 1993, J. Functional Programming 3:553); never changed once made. */
interface Node {
  readonly key: bigint;
  /** How often the key occurs. */
  readonly times: number;
  /** Occurrences in this subtree. */
  readonly size: number;
  /** Nodes in this subtree, on which balance is kept. */
  readonly weight: number;
  readonly left: OrderTree;
  readonly right: OrderTree;
}

/** A multiset of whole numbers in order: add, remove and look up by rank each take O(log n). `null` is the empty one. */
export type OrderTree = Node | null;

const sizeOf = (tree: OrderTree): number => tree?.size ?? 0;
const weightOf = (tree: OrderTree): number => tree?.weight ?? 0;

/** No side may weigh more than this many times the other; 3 with a rotation ratio of 2 is known to stay balanced. */
const DELTA = 3;
const RATIO = 2;

function node(key: bigint, times: number, left: OrderTree, right: OrderTree): Node {
  return {
    key,
    times,
    size: sizeOf(left) + sizeOf(right) + times,
    weight: weightOf(left) + weightOf(right) + 1,
    left,
    right,
  };
}

function rotateLeft(key: bigint, times: number, left: OrderTree, right: Node): Node {
  const inner = right.left;
  if (inner === null || weightOf(inner) < RATIO * weightOf(right.right)) {
    return node(right.key, right.times, node(key, times, left, inner), right.right);
  }
  return node(
    inner.key,
    inner.times,
    node(key, times, left, inner.left),
    node(right.key, right.times, inner.right, right.right),
  );
}

function rotateRight(key: bigint, times: number, left: Node, right: OrderTree): Node {
  const inner = left.right;
  if (inner === null || weightOf(inner) < RATIO * weightOf(left.left)) {
    return node(left.key, left.times, left.left, node(key, times, inner, right));
  }
  return node(
    inner.key,
    inner.times,
    node(left.key, left.times, left.left, inner.left),
    node(key, times, inner.right, right),
  );
}

function balanced(key: bigint, times: number, left: OrderTree, right: OrderTree): Node {
  if (weightOf(left) + weightOf(right) > 1) {
    if (right !== null && weightOf(right) > DELTA * weightOf(left))
      return rotateLeft(key, times, left, right);
    if (left !== null && weightOf(left) > DELTA * weightOf(right))
      return rotateRight(key, times, left, right);
  }
  return node(key, times, left, right);
}

/** The tree with one more occurrence of the key. */
export function withKey(tree: OrderTree, key: bigint): Node {
  if (tree === null) return node(key, 1, null, null);
  if (key < tree.key) return balanced(tree.key, tree.times, withKey(tree.left, key), tree.right);
  if (key > tree.key) return balanced(tree.key, tree.times, tree.left, withKey(tree.right, key));
  return node(key, tree.times + 1, tree.left, tree.right);
}

function leastOf(tree: Node): Node {
  return tree.left === null ? tree : leastOf(tree.left);
}

function withoutLeast(tree: Node): OrderTree {
  return tree.left === null
    ? tree.right
    : balanced(tree.key, tree.times, withoutLeast(tree.left), tree.right);
}

function withoutNode(tree: Node): OrderTree {
  if (tree.left === null) return tree.right;
  if (tree.right === null) return tree.left;
  const next = leastOf(tree.right);
  return balanced(next.key, next.times, tree.left, withoutLeast(tree.right));
}

/** The tree with one occurrence of the key fewer, or `undefined` when the key is not in it. */
export function withoutKey(tree: OrderTree, key: bigint): OrderTree | undefined {
  if (tree === null) return undefined;
  if (key < tree.key) {
    const left = withoutKey(tree.left, key);
    return left === undefined ? undefined : balanced(tree.key, tree.times, left, tree.right);
  }
  if (key > tree.key) {
    const right = withoutKey(tree.right, key);
    return right === undefined ? undefined : balanced(tree.key, tree.times, tree.left, right);
  }
  return tree.times > 1 ? node(key, tree.times - 1, tree.left, tree.right) : withoutNode(tree);
}

/** The key of rank `rank`, counted from 0 in rising order. @throws RangeError when there is none */
export function keyAt(tree: OrderTree, rank: number): bigint {
  let here = tree;
  let left = rank;
  while (here !== null) {
    const below = sizeOf(here.left);
    if (left < below) here = here.left;
    else if (left < below + here.times) return here.key;
    else {
      left -= below + here.times;
      here = here.right;
    }
  }
  throw new RangeError(`no rank ${rank} in this tree`);
}

/** How many occurrences are less than `key`. */
export function rankOf(tree: OrderTree, key: bigint): number {
  let here = tree;
  let below = 0;
  while (here !== null) {
    if (key <= here.key) here = here.left;
    else {
      below += sizeOf(here.left) + here.times;
      here = here.right;
    }
  }
  return below;
}

/** The longest path from the top: what keeps look-ups short. */
export function depthOf(tree: OrderTree): number {
  return tree === null ? 0 : 1 + Math.max(depthOf(tree.left), depthOf(tree.right));
}
