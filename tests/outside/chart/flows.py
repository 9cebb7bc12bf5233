"""Seeded flows as people write them: questions, readings, actions with a check after them, shared endings, lines back to an earlier step.

Prints graphs by lines, as draw.rs reads them: the sets f (dense, with loops), s (the same, thinned) and d (without loops), 30 of each.
"""

import random

SIZES = [10, 12, 15, 18, 20, 22, 25, 28, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 170, 180, 190, 200]
WIDTH, HEIGHT = 120, 40


class Flow:
    def __init__(self, seed):
        self.dice = random.Random(seed)
        self.kinds = []
        self.edges = []
        self.linked = set()
        self.parents = {}

    def step(self, kind):
        self.kinds.append(kind)
        return len(self.kinds) - 1

    def link(self, tail, head):
        if tail == head or (tail, head) in self.linked:
            return False
        self.linked.add((tail, head))
        self.edges.append((tail, head))
        return True

    def depth(self, step):
        depth = 0
        while step in self.parents:
            step = self.parents[step]
            depth += 1
        return depth

    def ancestors(self, step):
        above = []
        while step in self.parents:
            step = self.parents[step]
            above.append(step)
        return [one for one in above if one != 0] or [0]


def grow(flow, count):
    """A tree of steps; gives the exits that lead nowhere yet and the endings."""
    dice = flow.dice
    exits, endings = [flow.step("start")], []
    while len(flow.kinds) < count - 2 and exits:
        tail = exits.pop(len(exits) - 1 if dice.random() < 0.55 else dice.randrange(len(exits)))
        if len(exits) >= 2 and endings and dice.random() < 0.12 and flow.link(tail, dice.choice(endings)):
            continue
        kind, ways = choose(dice, bool(exits))
        step = flow.step(kind)
        flow.link(tail, step)
        flow.parents[step] = tail
        if kind == "end":
            endings.append(step)
        if kind == "action" and len(flow.kinds) < count - 2 and dice.random() < 0.7:
            check = flow.step("check")
            flow.link(step, check)
            flow.parents[check] = step
            exits += [check, check]
        else:
            exits += [step] * ways
    while not endings or len(flow.kinds) < count:
        endings.append(flow.step("end"))
    dice.shuffle(exits)
    return exits, endings


def choose(dice, may_end):
    roll = dice.random()
    if roll < 0.34:
        return "question", dice.choice([2, 2, 2, 3, 3, 4])
    if roll < 0.48:
        return "reading", dice.choice([2, 3])
    if roll < 0.80:
        return "action", 1
    return ("end", 0) if roll >= 0.90 and may_end else ("task", 1)


def close(flow, exits, endings, loops):
    """Leads every exit somewhere: to an ending, back up, or to any step further down."""
    dice = flow.dice
    entered = {head for _, head in flow.edges}
    fresh = [ending for ending in endings if ending not in entered]
    for tail in exits:
        for _ in range(30):
            roll = dice.random()
            if fresh:
                head = fresh[0]
            elif roll < 0.5:
                head = dice.choice(endings)
            elif roll < 0.65 and loops:
                head = dice.choice(flow.ancestors(tail)[:6])
            else:
                head = dice.randrange(1, len(flow.kinds))
                if flow.depth(head) <= flow.depth(tail):
                    continue
            if flow.link(tail, head):
                fresh = fresh[1:] if fresh and head == fresh[0] else fresh
                break
    left = {tail for tail, _ in flow.edges}
    for step, kind in enumerate(flow.kinds):
        if step not in left and kind != "end":
            next(ending for ending in endings if flow.link(step, ending))
    entered = {head for _, head in flow.edges}
    asks = [step for step, kind in enumerate(flow.kinds) if kind in ("question", "reading", "check")]
    for step in range(1, len(flow.kinds)):
        if step not in entered:
            flow.link(dice.choice([ask for ask in asks if ask != step] or [0]), step)


def flow(count, seed, loops=True):
    made = Flow(seed)
    exits, endings = grow(made, count)
    close(made, exits, endings, loops)
    return made


def thinned(made, seed):
    """Fewer lines, 1.2 to a step, every step still reached from the start."""
    dice, edges = random.Random(seed), list(made.edges)
    for edge in dice.sample(edges, len(edges)):
        if len(edges) <= 1.2 * len(made.kinds):
            break
        fewer = [other for other in edges if other != edge]
        if reached(fewer) >= reached(edges):
            edges = fewer
    return edges


def reached(edges):
    ahead = {}
    for tail, head in edges:
        ahead.setdefault(tail, []).append(head)
    seen, stack = {0}, [0]
    while stack:
        for head in ahead.get(stack.pop(), []):
            if head not in seen:
                seen.add(head)
                stack.append(head)
    return len(seen)


def show(name, count, edges):
    print("graph", name, 0)
    for _ in range(count):
        print("node", WIDTH // 2, WIDTH // 2, HEIGHT, 0, 0)
    for tail, head in edges:
        print("edge", tail, head, 1, 0, 0)


if __name__ == "__main__":
    for number, count in enumerate(SIZES):
        looped, straight = flow(count, 1000 + number), flow(count, 1000 + number, loops=False)
        show(f"f/{count}", count, looped.edges)
        show(f"s/{count}", count, thinned(looped, number))
        show(f"d/{count}", count, straight.edges)
