"""Draw the invented photographs of the demo: rims on a ground with a scale and a tag, nothing taken from anywhere.

Run from the checkout: ``.venv/bin/python docs/make_demo_photos.py``; writes demo_db/photos/*.jpg.
"""

from __future__ import annotations

import math
import random
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

TOP = Path(__file__).resolve().parent.parent
FONT = TOP / "resources" / "fonts" / "DejaVuSans.ttf"
SIZE = (900, 640)
PIXELS_A_MM = 5
GROUND, INK, WHITE = "#8d8a82", "#1f2430", "#f4f1e8"


def rim(draw: ImageDraw.ImageDraw, radius_mm: float, share: float, colour: str, seed: int) -> None:
    """Draw a sherd whose upper edge is an arc of a circle, broken at the sides and below."""
    chance = random.Random(seed)
    radius, half = radius_mm * PIXELS_A_MM, math.pi * share
    middle = (450, 150 + radius)
    edge = [
        (middle[0] + radius * math.sin(a), middle[1] - radius * math.cos(a))
        for a in (half * (i / 30 - 1) for i in range(61))
    ]
    depth = 190
    below = [(x + chance.uniform(-14, 14), y + depth + chance.uniform(-40, 30)) for x, y in edge[::-6]]
    shade = [(x + 7, y + 9) for x, y in edge + below]
    draw.polygon(shade, fill="#5d5b55")
    draw.polygon(edge + below, fill=colour)
    draw.line(edge, fill=INK, width=3)
    for _line in range(9):
        y = chance.uniform(190, 320)
        draw.line(
            [(330 + chance.uniform(0, 60), y), (520 + chance.uniform(0, 60), y + chance.uniform(-6, 6))], fill=INK
        )


def scale_and_tag(draw: ImageDraw.ImageDraw, text: str) -> None:
    """Draw a scale of 100 mm and a tag in the frame."""
    for part in range(10):
        left = 60 + part * 10 * PIXELS_A_MM
        draw.rectangle((left, 560, left + 10 * PIXELS_A_MM, 580), fill=INK if part % 2 else WHITE, outline=INK)
    font = ImageFont.truetype(str(FONT), 24)
    draw.text((60, 590), "100 mm", fill=WHITE, font=font)
    draw.rectangle((640, 520, 860, 610), fill=WHITE, outline=INK, width=2)
    draw.text((656, 532), text, fill=INK, font=font)


def main() -> None:
    """Draw and write all of them."""
    folder = TOP / "demo_db" / "photos"
    folder.mkdir(exist_ok=True)
    for name, radius, share, colour, text, seed in (
        ("rim-69-1.jpg", 90, 0.112, "#a9542f", "2026\nbucket 69.1", 1),
        ("rim-69-2.jpg", 70, 0.14, "#b06038", "2026\nbucket 69.2", 2),
        ("rim-87-1.jpg", 90, 0.07, "#a5522f", "2026\nbucket 87.1", 3),
    ):
        image = Image.new("RGB", SIZE, GROUND)
        draw = ImageDraw.Draw(image)
        rim(draw, radius, share, colour, seed)
        scale_and_tag(draw, text)
        image.save(folder / name, quality=60, optimize=True)
    coin = Image.new("RGB", SIZE, GROUND)
    draw = ImageDraw.Draw(coin)
    draw.ellipse((357, 187, 553, 383), fill="#5d5b55")
    draw.ellipse((350, 180, 545, 375), fill="#6f7a4c", outline=INK, width=3)
    draw.ellipse((372, 202, 523, 353), outline=INK, width=1)
    draw.line([(430, 330), (455, 245), (440, 225), (465, 215), (480, 240), (472, 330)], fill=INK, width=3)
    scale_and_tag(draw, "2026\nobject 31")
    coin.save(folder / "object-31.jpg", quality=60, optimize=True)


if __name__ == "__main__":
    main()
