-- AlterTable
ALTER TABLE "EnrolCode" ADD COLUMN "ownerId" TEXT;
