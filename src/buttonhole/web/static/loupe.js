// The loupe with a script: an end can be dragged, and a tap counts in the size that is shown.
// Without it the same form does the same by whole taps.

const loupe = document.getElementById("loupe");
const form = document.getElementById("loupe-form");

if (loupe && form) {
  const picture = loupe.querySelector("input");
  const ends = [...loupe.querySelectorAll(".end")];
  const side = picture.width ? Number(picture.getAttribute("width")) : 720;
  const send = (name, value) => {
    let field = form.elements.namedItem(name);
    if (!field) {
      field = document.createElement("input");
      field.type = "hidden";
      field.name = name;
      form.append(field);
    }
    field.value = value;
  };
  const place = (event) => {
    const box = picture.getBoundingClientRect();
    const scale = side / box.width;
    return [(event.clientX - box.left) * scale, (event.clientY - box.top) * scale];
  };
  let held = null;
  let moved = false;

  picture.addEventListener("pointerdown", (event) => {
    const [x, y] = place(event);
    const near = ends
      .map((end, order) => [Math.hypot(end.dataset.x - x, end.dataset.y - y), order])
      .sort((one, other) => one[0] - other[0])[0];
    held = near && near[0] < 40 ? near[1] : null;
    moved = false;
    if (held !== null) {
      picture.setPointerCapture(event.pointerId);
      event.preventDefault();
    }
  });
  picture.addEventListener("pointermove", (event) => {
    if (held === null) return;
    const [x, y] = place(event);
    if (Math.hypot(ends[held].dataset.x - x, ends[held].dataset.y - y) > 4) moved = true;
    if (moved) ends[held].setAttribute("transform", `translate(${x} ${y})`);
  });
  const drop = (event) => {
    if (held === null || !moved) {
      held = null;
      return;
    }
    const [x, y] = place(event);
    send("hand", String(held + 1));
    send("tap.x", String(Math.max(1, Math.round(x))));
    send("tap.y", String(Math.max(1, Math.round(y))));
    send("shown", String(side));
    held = null;
    form.submit();
  };
  picture.addEventListener("pointerup", drop);
  picture.addEventListener("pointercancel", () => { held = null; });
  picture.addEventListener("click", (event) => {
    if (moved) {
      event.preventDefault();
      return;
    }
    send("shown", String(Math.round(picture.getBoundingClientRect().width)));
  });
}
