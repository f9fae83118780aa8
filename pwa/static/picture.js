// picture.js makes a photo small and bare: upright, about two megapixels, about
// one megabyte of JPEG, with nothing in it but the picture. Where it was taken
// and with which phone is nobody's business.

const maxPixels = 2_000_000;
const maxSide = 4096; // pixels; every browser's canvas is at least this large
const maxBytes = 1_000_000;
const maxFile = 60_000_000; // bytes; more than a phone's camera makes
const thumbSide = 240; // pixels
const qualities = [0.85, 0.75, 0.6, 0.45];

/** shrink turns the bytes of a picture into {bytes, width, height, thumb}, both
 * pictures as ArrayBuffers. It rejects with an error named "Unreadable", "Blank",
 * "TooLarge" or "NoCanvas". */
export async function shrink(buffer, type) {
  if (buffer.byteLength > maxFile) throw named("TooLarge");
  if (!readsBack()) throw named("NoCanvas");
  const source = await decode(new Blob([buffer], { type }));
  try {
    const picture = await small(source);
    const thumb = await jpeg(draw(source, thumbSide ** 2, thumbSide), 0.7);
    return { ...picture, bytes: bare(picture.bytes), thumb: bare(thumb) };
  } finally {
    source.done();
  }
}

/** thumbnail is the small picture of one that is small and bare already. */
export async function thumbnail(buffer) {
  const source = await decode(new Blob([buffer], { type: "image/jpeg" }));
  try {
    return bare(await jpeg(draw(source, thumbSide ** 2, thumbSide), 0.7));
  } finally {
    source.done();
  }
}

function named(name) {
  const error = new Error(name);
  error.name = name;
  return error;
}

// decode tries both ways that browsers have: each fails on some large pictures,
// one of them by giving a blank.
async function decode(blob) {
  let blank = false;
  for (const way of [byBitmap, byElement]) {
    try {
      const source = await way(blob);
      if (!isBlank(source)) return source;
      blank = true;
      source.done();
    } catch { /* the other way may do */ }
  }
  throw named(blank ? "Blank" : "Unreadable");
}

async function byBitmap(blob) {
  const bitmap = await createImageBitmap(blob, { imageOrientation: "from-image" });
  return { image: bitmap, width: bitmap.width, height: bitmap.height, done: () => bitmap.close() };
}

async function byElement(blob) {
  const url = URL.createObjectURL(blob);
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    return { image, width: image.naturalWidth, height: image.naturalHeight, done: () => URL.revokeObjectURL(url) };
  } catch (error) {
    URL.revokeObjectURL(url);
    throw error;
  }
}

// isBlank finds a picture of one single colour: no camera makes one, a browser
// that ran out of memory does.
function isBlank(source) {
  const { canvas, context } = draw(source, 64 * 64, 64);
  const pixels = new Uint32Array(context.getImageData(0, 0, canvas.width, canvas.height).data.buffer);
  return pixels.every((pixel) => pixel === pixels[0]);
}

// readsBack finds a browser that gives a page other pixels than were drawn, to
// hide who it is. Such a picture would be worth nothing as evidence.
function readsBack() {
  const { context } = paper(8, 8);
  context.fillStyle = "rgb(40, 120, 200)";
  context.fillRect(0, 0, 8, 8);
  const pixels = context.getImageData(0, 0, 8, 8).data;
  return pixels.every((value, i) => Math.abs(value - [40, 120, 200, 255][i % 4]) <= 4);
}

function paper(width, height) {
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext("2d");
  if (!context) throw named("NoCanvas");
  return { canvas, context };
}

function draw({ image, width, height }, pixels, side) {
  const scale = Math.min(1, Math.sqrt(pixels / (width * height)), side / Math.max(width, height));
  const drawn = paper(Math.max(1, Math.floor(width * scale)), Math.max(1, Math.floor(height * scale)));
  drawn.context.imageSmoothingQuality = "high";
  drawn.context.drawImage(image, 0, 0, drawn.canvas.width, drawn.canvas.height);
  return drawn;
}

// small lowers the quality first, and then the size, until the picture is light
// enough. Half the pixels weigh about half, so this ends.
async function small(source) {
  for (let pixels = maxPixels; ; pixels /= 2) {
    const drawn = draw(source, pixels, maxSide);
    for (const quality of qualities) {
      const bytes = await jpeg(drawn, quality);
      if (bytes.byteLength <= maxBytes) return { bytes, width: drawn.canvas.width, height: drawn.canvas.height };
    }
  }
}

async function jpeg({ canvas }, quality) {
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", quality));
  if (!blob || blob.type !== "image/jpeg") throw named("NoCanvas");
  return blob.arrayBuffer();
}

/** bare drops from a JPEG every segment that says something about it: only the
 * JFIF header, the colours' profile and Adobe's note on them stay. Some browsers
 * write metadata of their own. (ITU-T T.81, B.1.1: markers and segments.) */
export function bare(buffer) {
  const bytes = new Uint8Array(buffer);
  const kept = [bytes.subarray(0, 2)];
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at] === 0xff && bytes[at + 1] !== 0xda) {
    const marker = bytes[at + 1];
    const end = at + 2 + (bytes[at + 2] << 8 | bytes[at + 3]);
    const says = marker === 0xfe || (marker >= 0xe0 && marker <= 0xef && ![0xe0, 0xe2, 0xee].includes(marker));
    if (!says) kept.push(bytes.subarray(at, end));
    at = end;
  }
  kept.push(bytes.subarray(at));
  const whole = new Uint8Array(kept.reduce((sum, part) => sum + part.length, 0));
  let to = 0;
  for (const part of kept) {
    whole.set(part, to);
    to += part.length;
  }
  return whole.buffer;
}
