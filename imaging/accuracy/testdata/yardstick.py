#!/usr/bin/python3
"""Yardstick: ink loss and plate tone by common means, with OpenCV and SciPy.

SIFT and RANSAC find the homography, ECC refines it on coverage, polynomials on
the margin take the light out. The reference's corners are given by hand. Our
own script, written to be compared with; it is no part of the program.

usage: yardstick.py HxW REFERENCE x,y,x,y,x,y,x,y PHOTO...
Prints one JSON line: results, processor seconds, peak memory in MB.
"""
import json
import resource
import sys
import time

import cv2
import numpy as np
from scipy.ndimage import gaussian_filter

SCALE = 12.0  # working grid, samples a millimetre
FEATURE_SIDE = 2000  # longest side for SIFT


def linear(path):
    img = cv2.imread(path, cv2.IMREAD_COLOR | cv2.IMREAD_IGNORE_ORIENTATION)
    codes = np.arange(256) / 255.0
    table = np.where(codes <= 0.04045, codes / 12.92, ((codes + 0.055) / 1.055) ** 2.4).astype(np.float32)
    lin = table[img]
    return 0.0722 * lin[..., 0] + 0.7152 * lin[..., 1] + 0.2126 * lin[..., 2], cv2.cvtColor(img, cv2.COLOR_BGR2GRAY)


def features(grey):
    k = min(1.0, FEATURE_SIDE / max(grey.shape))
    small = cv2.resize(grey, None, fx=k, fy=k, interpolation=cv2.INTER_AREA)
    points, words = cv2.SIFT_create(nfeatures=8000).detectAndCompute(small, None)
    return np.float32([p.pt for p in points]) / k, words


def margin_light(lum, to_plate, size, order=3):
    """Light by a polynomial on the paper 2 to 14 mm outside the mark."""
    h, w = lum.shape
    step = max(4, int(w / 400))
    ys, xs = np.mgrid[0:h:step, 0:w:step].astype(np.float64)
    p = cv2.perspectiveTransform(np.stack([xs.ravel(), ys.ravel()], 1)[None], to_plate)[0]
    mm_h, mm_w = size
    out = np.maximum(np.maximum(-p[:, 0], p[:, 0] - mm_w), np.maximum(-p[:, 1], p[:, 1] - mm_h))
    soft = cv2.blur(lum, (step, step))[::step, ::step].ravel()
    use = (out > 2) & (out < 14)
    level = np.median(soft[use])
    use &= soft > 0.6 * level
    terms = [(i, j) for i in range(order + 1) for j in range(order + 1 - i)]
    u, v = (xs.ravel() - w / 2) / w, (ys.ravel() - h / 2) / w
    basis = np.stack([u ** i * v ** j for i, j in terms], 1)
    values = np.log(np.maximum(soft, 1e-4))
    for _ in range(4):
        coef = np.linalg.lstsq(basis[use], values[use], rcond=None)[0]
        rest = values - basis @ coef
        use &= np.abs(rest) < 3 * np.std(rest[use]) + 1e-6
    field = np.exp(basis @ coef).reshape(xs.shape).astype(np.float32)
    return cv2.resize(field, (w, h), interpolation=cv2.INTER_LINEAR)


def rectify(lum, from_plate, size):
    h, w = int(size[0] * SCALE), int(size[1] * SCALE)
    grid = np.array([[1 / SCALE, 0, 0.5 / SCALE], [0, 1 / SCALE, 0.5 / SCALE], [0, 0, 1]])
    return cv2.warpPerspective(lum, from_plate @ grid, (w, h), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
                               borderMode=cv2.BORDER_REPLICATE)


def coverage(refl):
    """Coverage against a local ground, and the ground's tone."""
    mask = (refl < 0.93 * cv2.blur(refl, (61, 61))).astype(np.uint8)
    free = 1 - cv2.dilate(mask, np.ones((7, 7), np.uint8))
    weight = gaussian_filter(free.astype(np.float32), 16)
    ground = gaussian_filter(refl * free, 16) / np.maximum(weight, 1e-3)
    ground = np.where(weight > 0.03, ground, np.median(refl[free > 0]))
    ink = np.percentile(refl, 0.1)
    edge = int(1.5 * SCALE)
    inner = np.zeros_like(free)
    inner[edge:-edge, edge:-edge] = 1
    tone = float(np.mean(-np.log10(np.maximum(refl[(free & inner) > 0], 1e-3))))
    return np.clip((ground - refl) / (ground - ink), -0.05, 1), tone, inner > 0


def peak_mb():
    """The most memory held; ru_maxrss would begin with the parent's."""
    with open("/proc/self/status") as status:
        return next(int(line.split()[1]) for line in status if line.startswith("VmHWM")) / 1024


def main():
    size = tuple(float(v) for v in sys.argv[1].split("x"))
    marks = np.float32([float(v) for v in sys.argv[3].split(",")]).reshape(4, 2)
    corners = np.float32([[0, 0], [size[1], 0], [size[1], size[0]], [0, size[0]]])
    plate_to_ref = cv2.getPerspectiveTransform(corners, marks)
    lum, grey = linear(sys.argv[2])
    light = margin_light(lum, np.linalg.inv(plate_to_ref), size)
    ref, _, inner = coverage(rectify(lum / light, plate_to_ref, size))
    ref_points, ref_words = features(grey)
    results = []
    for path in sys.argv[4:]:
        start = time.process_time()
        lum, grey = linear(path)
        points, words = features(grey)
        pairs = cv2.BFMatcher(cv2.NORM_L2).knnMatch(ref_words, words, k=2)
        good = [a for a, b in (p for p in pairs if len(p) == 2) if a.distance < 0.75 * b.distance]
        ref_to_photo, _ = cv2.findHomography(ref_points[[g.queryIdx for g in good]],
                                             points[[g.trainIdx for g in good]], cv2.RANSAC, 4.0)
        to_photo = ref_to_photo @ plate_to_ref
        light = margin_light(lum, np.linalg.inv(to_photo), size)
        refl = lum / light
        cov, _, _ = coverage(rectify(refl, to_photo, size))
        warp = np.eye(3, dtype=np.float32)
        half = (0.5, 0.5)
        try:
            small = [cv2.resize(a.astype(np.float32), None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA) for a in (ref, cov)]
            _, warp = cv2.findTransformECC(small[0], small[1], warp, cv2.MOTION_HOMOGRAPHY,
                                           (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 60, 1e-6), None, 5)
        except cv2.error:
            pass
        up = np.array([[2 / SCALE, 0, 1 / SCALE], [0, 2 / SCALE, 1 / SCALE], [0, 0, 1]])
        to_photo = to_photo @ up @ warp.astype(np.float64) @ np.linalg.inv(up)
        cov, tone, _ = coverage(rectify(refl, to_photo, size))
        loss = 1 - float(cov[inner].sum() / ref[inner].sum())
        results.append({"photo": path, "ink_loss": loss, "plate_tone": tone, "processor": time.process_time() - start,
                        "homography": to_photo.tolist()})
    use = resource.getrusage(resource.RUSAGE_SELF)
    print(json.dumps({"results": results, "processor": use.ru_utime + use.ru_stime, "memory_mb": peak_mb()}))


main()
