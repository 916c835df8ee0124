import { useEffect, useState } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import type { Reply } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { RefusalNotice } from "../RefusalNotice.tsx";
import styles from "./Attachments.module.css";
import { pictureAddress } from "./attachment-bytes.ts";

/** A scan as an image, once its SHA-256 has been found to agree; a missing or damaged file is named instead. */
export function AttachmentPicture({ attachment }: { attachment: Attachment }) {
  const client = useClient();
  const [address, setAddress] = useState<Reply<string> | null>(null);
  useEffect(() => {
    let isWanted = true;
    void pictureAddress(client, attachment).then((reply) => {
      if (isWanted) setAddress(reply);
    });
    return () => {
      isWanted = false;
    };
  }, [client, attachment]);
  if (!address) return <p role="status">Reading {attachment.fileName} …</p>;
  if (!address.ok) return <RefusalNotice error={address.error} />;
  return (
    <figure>
      <img
        className={styles.picture}
        src={address.value}
        alt={attachment.caption || `Scan ${attachment.fileName}`}
      />
      <figcaption>
        {attachment.fileName}
        {attachment.caption ? `: ${attachment.caption}` : ""}
      </figcaption>
    </figure>
  );
}
