// sensors.js reads the phone's motion sensor as a level: a few seconds of the
// pull of gravity on the phone's own axes. What it means is worked out in Go.
import { t } from "./words.js";

const listenFor = 2000; // ms of samples
const silentAfter = 1500; // ms without any sample: there is no sensor, or it is forbidden
const most = 200; // samples passed on: all of them at the rate of any phone known

/**
 * gravity listens for a while and resolves to "x,y,z,t;x,y,z,t;…": whole
 * thousandths of a metre per second squared along the phone's axes, and whole
 * milliseconds since the first. It rejects with a text for the person.
 * Call it from a press: some phones only then may ask.
 */
export async function gravity(tell) {
  if (typeof DeviceMotionEvent === "undefined") throw new Error(t("This browser gives no motion sensor."));
  if (typeof DeviceMotionEvent.requestPermission === "function") {
    const answer = await DeviceMotionEvent.requestPermission().catch(() => "denied");
    if (answer !== "granted") throw new Error(t("The phone did not allow the motion sensor."));
  }
  const samples = await collect(tell);
  if (samples.length === 0) throw new Error(t("The motion sensor is silent."));
  return thin(samples).map((s) => s.join(",")).join(";");
}

function collect(tell) {
  return new Promise((resolve) => {
    const samples = [];
    let began = 0;
    const hear = (event) => {
      const g = event.accelerationIncludingGravity;
      if (g?.x == null || g.y == null || g.z == null) return;
      const felt = event.timeStamp; // a busy page hears of it later
      if (samples.length === 0) began = felt;
      samples.push([g.x * 1000, g.y * 1000, g.z * 1000, felt - began].map(Math.round));
    };
    const started = performance.now();
    addEventListener("devicemotion", hear);
    const timer = setInterval(() => {
      const passed = performance.now() - started;
      if (passed < listenFor && !(samples.length === 0 && passed > silentAfter)) {
        tell(t("Hold still: %s", Math.ceil((listenFor - passed) / 1000)));
        return;
      }
      clearInterval(timer);
      removeEventListener("devicemotion", hear);
      resolve(samples);
    }, 100);
  });
}

// thin takes evenly spaced samples where a sensor is faster than that. What was
// in between is not averaged, so the scatter stays what the sensor had.
function thin(samples) {
  if (samples.length <= most) return samples;
  return Array.from({ length: most }, (_, i) => samples[Math.floor((i * samples.length) / most)]);
}
