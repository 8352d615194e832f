#!/usr/bin/env python3
"""Fits the model of liked pairs: which two colours stand together in palettes that people rated highest.

  fit.py [--penalty P]... [--write]

Reads `../shared/reference/colour/palettes_liked.csv` beside the checkout (496 palettes of five colours, npm package
nice-color-palettes 4.0.0); needs numpy. Prints, for each penalty, how many times as often as chance the first nine trios of
a library of ten palettes hold people's own choices, each fifth of the palettes judged by a model that has not seen it.
With --write, the first penalty's model of all palettes goes to `assets/liked_pairs.ron`, those of the five parts to
`folds.ron` beside this script, so that the bench can judge the very code that people run. The palettes themselves are
written nowhere.

A pair is ordered by lightness, the darker first. Twenty-two features, standardised, with all their squares and products, go
into a logistic regression that tells pairs of one palette from pairs across palettes (sixty of those to one, together weighing
as much as twenty). The answer is the natural logarithm of how many times as often as chance the pair stands together.
"""
import argparse, csv, pathlib
import numpy as np

ROOT = pathlib.Path(__file__).resolve().parents[3]
DATA = ROOT.parent / "shared/reference/colour/palettes_liked.csv"
SEED, FOLDS, ACROSS, WEIGHT, SHIFT, BOUND, FEATURES = 20260119, 5, 60, 20, 0.03, 4.0, 22
# B. Ottosson, "A perceptual color space for image processing", 2020.
CONES = np.array([[.4122214708, .5363325363, .0514459929], [.2119034982, .6806995451, .1073969566], [.0883024619, .2817188376, .6299787005]])
AXES = np.array([[.2104542553, .7936177850, -.0040720468], [1.9779984951, -2.4285922050, .4505937099], [.0259040371, .7827717662, -.8086757660]])


def palettes():
    with open(DATA, newline="") as file:
        rows = [row for row in csv.reader(file) if len(row) == 5 and row[0].startswith("#") and len(row[0]) == 7]
    rgb = np.array([[[int(c[i:i + 2], 16) for i in (1, 3, 5)] for c in row] for row in rows]) / 255
    light = np.where(rgb <= .04045, rgb / 12.92, ((rgb + .055) / 1.055) ** 2.4)
    return np.cbrt(light @ CONES.T) @ AXES.T


def features(one, two):
    """Of pairs of OKLab colours, n x 3 each: n x 22, the same whichever comes first."""
    swap = (one[:, 0] > two[:, 0]) | ((one[:, 0] == two[:, 0]) & (one[:, 1] > two[:, 1]))
    dark, pale = np.where(swap[:, None], two, one), np.where(swap[:, None], one, two)
    (l1, a1, b1), (l2, a2, b2) = dark.T, pale.T
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.arctan2(b1, a1), np.arctan2(b2, a2)
    w1, w2 = c1 / (c1 + SHIFT), c2 / (c2 + SHIFT)  # how far a hue counts at all
    turn = (h1 - h2 + np.pi) % (2 * np.pi) - np.pi
    apart = np.sqrt(((dark - pale) ** 2).sum(1))
    return np.stack([l1, l2, c1, c2, w1 * np.cos(h1), w1 * np.sin(h1), w2 * np.cos(h2), w2 * np.sin(h2), w1 * w2 * np.cos(turn),
                     w1 * w2 * np.sin(turn), w1 * w2 * np.cos(2 * turn), apart, np.exp(-apart / .1), np.abs(turn) * np.sqrt(w1 * w2),
                     w1 * np.cos(2 * h1), w1 * np.sin(2 * h1), w2 * np.cos(2 * h2), w2 * np.sin(2 * h2),
                     np.sqrt(c1), np.sqrt(c2), np.exp(-c1 / .02), np.exp(-c2 / .02)], 1)


def terms(z):
    u, v = np.triu_indices(z.shape[1])
    return np.concatenate([z, z[:, u] * z[:, v]], 1)


def pairs(lab, rng):
    u, v = np.triu_indices(5, 1)
    one, two = lab[:, u].reshape(-1, 3), lab[:, v].reshape(-1, 3)
    n = len(one) * ACROSS
    p = rng.integers(0, len(lab), n)
    q = (p + rng.integers(1, len(lab), n)) % len(lab)
    other = lab[p, rng.integers(0, 5, n)], lab[q, rng.integers(0, 5, n)]
    return np.concatenate([one, other[0]]), np.concatenate([two, other[1]]), np.r_[np.ones(len(one)), np.zeros(n)]


def fit(lab, penalty):
    one, two, together = pairs(lab, np.random.default_rng(SEED))
    raw = features(one, two)
    middle, spread = raw.mean(0), raw.std(0)
    x = terms(np.clip((raw - middle) / spread, -BOUND, BOUND))
    mean, width = x.mean(0), x.std(0)
    x = np.concatenate([np.ones((len(x), 1)), (x - mean) / width], 1).astype(np.float32)  # half the memory
    weight = np.where(together > 0, 1, WEIGHT / ACROSS)
    ridge = np.full(x.shape[1], penalty)
    ridge[0] = 0
    logit = lambda w: (x @ w.astype(np.float32)).astype(float)
    loss = lambda w: (weight * (np.logaddexp(0, logit(w)) - together * logit(w))).sum() + (ridge * w * w).sum() / 2
    w = np.zeros(x.shape[1])
    w[0] = -np.log(WEIGHT)
    now = loss(w)
    for _ in range(30):  # Newton's steps, shortened where a whole one would lead uphill
        p = 1 / (1 + np.exp(-np.clip(logit(w), -30, 30)))
        bend = (x * (weight * p * (1 - p)).astype(np.float32)[:, None]).T @ x
        step = np.linalg.solve(bend.astype(float) + np.diag(ridge + 1e-3), x.T @ (weight * (together - p)).astype(np.float32) - ridge * w)
        share = 1.0
        while loss(w + share * step) > now and share > 1e-3:
            share /= 2
        w = w + share * step
        before, now = now, loss(w)
        if before - now < 1e-3:
            break
    slopes = w[1:] / width
    # On the scale of even odds: the logarithm of how many times as often as chance.
    return dict(middle=middle, spread=spread, constant=w[0] - slopes @ mean + np.log(WEIGHT), slopes=slopes)


def score(model, one, two):
    z = np.clip((features(one, two) - model["middle"]) / model["spread"], -BOUND, BOUND)
    return model["constant"] + terms(z) @ model["slopes"]


def judge(model, lab, libraries=60, seed=1):
    """Hits among the first nine over hits by chance: libraries of ten palettes, each of their colours a base. The varied list is
    judged by the bench, which runs the very code that people run."""
    rng, hits = np.random.default_rng(seed), 0
    i, j = np.triu_indices(50, 1)
    a, b = np.triu_indices(49, 1)
    for _ in range(libraries):
        swatches = lab[rng.choice(len(lab), 10, replace=False)].reshape(50, 3)
        s = np.zeros((50, 50))
        s[i, j] = s[j, i] = score(model, swatches[i], swatches[j])
        for base in range(50):
            others = np.delete(np.arange(50), base)
            x, y = others[a], others[b]
            first = np.argsort(-np.minimum(np.minimum(s[base, x], s[base, y]), s[x, y]), kind="stable")[:9]
            hits += ((x[first] // 5 == base // 5) & (y[first] // 5 == base // 5)).sum()
    return hits / (libraries * 50 * 9) / (6 / 1176)


def text(model, indent=""):
    row = lambda v: "[" + ", ".join(f"{x:.6g}" for x in v) + "]"
    parts = [f"middle: {row(model['middle'])},", f"spread: {row(model['spread'])},", f"constant: {model['constant']:.6g},", f"linear: {row(model['slopes'][:FEATURES])},", "products: ["]
    at = FEATURES
    for n in range(FEATURES, 0, -1):
        parts.append("    " + ", ".join(f"{x:.6g}" for x in model["slopes"][at:at + n]) + ",")
        at += n
    return "".join(f"{indent}    {p}\n" for p in [*parts, "],"])


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("--penalty", type=float, action="append")
    ap.add_argument("--write", action="store_true")
    args = ap.parse_args()
    lab = palettes()
    part = np.arange(len(lab)) % FOLDS
    kept = None
    for penalty in args.penalty or [2.0]:
        models = [fit(lab[part != f], penalty) for f in range(FOLDS)]
        figures = [judge(m, lab[part == f]) for f, m in enumerate(models)]
        print(f"penalty {penalty}: {np.mean(figures):.2f} times chance held out, by part {np.round(figures, 2)}", flush=True)
        kept = kept or models
    if not args.write:
        return
    penalty = (args.penalty or [2.0])[0]
    whole = fit(lab, penalty)
    print(f"all palettes, judged on themselves: {judge(whole, lab):.2f}")
    head = ("// How many times as often as chance two colours stand together in palettes that people rated highest, as a natural logarithm.\n"
            f"// Fitted by tests/bench/liked/fit.py, seed {SEED}, penalty {penalty:g}; the features and their order stand in src/domain/colour/liking.rs.\n")
    source = "496 five-colour palettes that people rated highest, npm package nice-color-palettes 4.0.0 (MIT); coefficients only, no palette is kept"
    (ROOT / "assets/liked_pairs.ron").write_text(head + "(\n" + f"    source: \"{source}\",\n    model: (\n" + text(whole, "    ") + "    ),\n)\n")
    parts = "".join("    (\n" + text(m, "    ") + "    ),\n" for m in kept)
    (ROOT / "tests/bench/liked/folds.ron").write_text("// Models that have not seen the palettes of one part, row number modulo 5 in the order of the file; written by fit.py.\n[\n" + parts + "]\n")


if __name__ == "__main__":
    main()
