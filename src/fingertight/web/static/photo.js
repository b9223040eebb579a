// A photo is made smaller on the tablet before it is sent; without this file the whole picture goes, and is made small there.

const LONGEST_PX = 1600, QUALITY = 0.85;

async function smaller(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
  return blob && blob.size < file.size ? new File([blob], "photo.jpg", { type: "image/jpeg" }) : file;
}

document.addEventListener("change", async (event) => {
  const input = event.target;
  if (!input.matches?.("input[type=file][data-photo]") || !input.files.length) return;
  const sent = new DataTransfer();
  for (const file of input.files) {
    try {
      sent.items.add(await smaller(file));
    } catch {
      sent.items.add(file); // no picture the tablet can read: the answer will say so
    }
  }
  input.files = sent.files;
});
